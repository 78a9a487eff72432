namespace Farberth.Monitoring.Site;

/// <summary>How a site asks its boaters. Left out of a site file, the defaults are those of <see cref="RegionDefaults"/>.</summary>
/// <param name="Repeat">A slip is asked no more often than this; a request stands for as long, then it is renewed or taken back.</param>
/// <param name="Patience">By then the amps must have fallen; else another slip is asked.</param>
/// <param name="LowVolts">Leg to neutral; requests keep every pedestal above it. Null: the lower end of band A.</param>
public sealed record AdviceSettings(TimeSpan Repeat, TimeSpan Patience, double? LowVolts);
