using Farberth.Monitoring.Site;

namespace Farberth.Service.Views;

/// <summary>A dock as it is, or as it was at a moment of the past.</summary>
/// <param name="Step">Of the past: readings, estimate and risks worked out anew; alarms and requests as the journal has them.</param>
/// <param name="Readings">How many readings of the past it was worked out from, 0 where nothing is kept of that time; null: it is as it is now.</param>
/// <param name="Without">What is not in it, in words.</param>
public sealed record DockMoment(DockStep Step, int? Readings, IReadOnlyList<string> Without)
{
    public DateTimeOffset At => Step.Now;

    public bool IsPast => Readings is not null;
}
