using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Remembering;
using Farberth.Monitoring.Site;
using Serilog;

namespace Farberth.Service.Loop;

/// <summary>The monitor that a run of the service begins with.</summary>
/// <param name="From">Where in the intake log it goes on.</param>
/// <param name="IsRestored">It goes on from what an earlier run remembered.</param>
sealed record MonitorAtStart(SiteMonitor Monitor, LogPosition From, bool IsRestored)
{
    /// <summary>Without a checkpoint the monitor begins anew, and what the log holds is for its other readers.</summary>
    /// <param name="file">Null, as <paramref name="intake"/>: nothing is kept.</param>
    public static MonitorAtStart Of(SiteDefinition site, CheckpointFile? file, IntakeLog? intake, ILogger log)
    {
        var end = intake?.End ?? default;
        if (Newest(file, log) is not { } newest || Memory(newest, log) is not { } memory)
            return new(new(site), end, IsRestored: false);
        var monitor = new SiteMonitor(site, memory);
        foreach (var forgotten in monitor.Forgotten)
            log.Warning("Not remembered over the restart: {Forgotten}", forgotten);
        return new(monitor, newest.Position < end ? newest.Position : end, IsRestored: true);
    }

    static Checkpoint? Newest(CheckpointFile? file, ILogger log)
    {
        try
        {
            return file?.Read();
        }
        catch (Exception e) when (e is InvalidDataException or IOException or UnauthorizedAccessException)
        {
            log.Warning("What was remembered before the restart cannot be read: {Problem}. The monitor begins anew", e.Message);
            return null;
        }
    }

    static SiteMemory? Memory(Checkpoint checkpoint, ILogger log)
    {
        var read = SiteMemory.Read(checkpoint.Memory);
        if (read.Problem is { } problem)
            log.Warning("What was remembered before the restart cannot be used: {Problem}. The monitor begins anew", problem);
        return read.Memory;
    }
}
