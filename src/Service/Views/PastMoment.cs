using Farberth.Monitoring.Site;

namespace Farberth.Service.Views;

/// <summary>A dock as it was at a moment.</summary>
/// <param name="Step">Readings, estimate and risks worked out anew; alarms and requests as the journal has them.</param>
/// <param name="Readings">How many readings it was worked out from; 0: nothing is kept of that time.</param>
/// <param name="Without">What is not in it, in words.</param>
public sealed record PastMoment(DockStep Step, int Readings, IReadOnlyList<string> Without)
{
    public DateTimeOffset At => Step.Now;
}
