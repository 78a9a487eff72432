using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Site;

namespace Farberth.Service.Loop;

/// <summary>The monitor that a run of the service begins with.</summary>
/// <param name="From">Where in the intake log it goes on.</param>
/// <param name="IsRestored">It goes on from what an earlier run remembered.</param>
sealed record MonitorAtStart(SiteMonitor Monitor, LogPosition From, bool IsRestored)
{
    /// <summary>Without a checkpoint what the log holds is for the history alone.</summary>
    public static MonitorAtStart Of(Checkpoints checkpoints, IntakeLog? log)
    {
        var (monitor, from) = checkpoints.Restore();
        return new(monitor, from ?? log?.End ?? default, from is not null);
    }
}
