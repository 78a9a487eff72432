namespace Farberth.Service.Views;

/// <summary>The volts along a dock, leg by leg: what its meters say and what is computed from all of them together.</summary>
/// <param name="Legs">By leg: the pedestals, run after run, each outwards.</param>
/// <param name="Without">What is not in it, in words.</param>
public sealed record DockProfile(
    string Dock, DateTimeOffset At, IReadOnlyDictionary<string, IReadOnlyList<ProfilePoint>> Legs, IReadOnlyList<string> Without)
{
    public static DockProfile Of(DockMoment moment, DockShown dock) => new(
        dock.Name, moment.At,
        dock.Pedestals.SelectMany(pedestal => pedestal.Computed.Keys.Union(pedestal.Measured.Keys)).Distinct().Order(StringComparer.Ordinal).ToDictionary(
            leg => leg, IReadOnlyList<ProfilePoint> (leg) => [.. dock.Pedestals.Select(pedestal => ProfilePoint.Of(pedestal, leg))]),
        moment.Without);
}

/// <param name="Before">The next pedestal towards the source, or "source".</param>
/// <param name="Run">0 for the run of pedestals that leads furthest, then what branches off.</param>
/// <param name="Metres">Along the cables from the source.</param>
/// <param name="Measured">Volts, leg to neutral, RMS; null where its meter says nothing.</param>
/// <param name="Computed">Volts, most likely from all meters together.</param>
/// <param name="Sd">One standard deviation of <paramref name="Computed"/>, V.</param>
/// <param name="Amps">Of all its outlets together, RMS.</param>
/// <param name="Fresh">The measured volts are new enough to be believed.</param>
public sealed record ProfilePoint(
    string Pedestal, string Before, int Run, double Metres, double? Measured, double? Computed, double? Sd, double? Amps, bool Fresh)
{
    public static ProfilePoint Of(PedestalShown pedestal, string leg) => new(
        pedestal.Name, pedestal.Before, pedestal.Run, pedestal.Metres, Of(pedestal.Measured, leg), Of(pedestal.Computed, leg), Of(pedestal.Sd, leg),
        Of(pedestal.Amps, leg), pedestal.Fresh);

    static double? Of(Dictionary<string, double> values, string leg) => values.TryGetValue(leg, out var value) ? value : null;
}
