using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Remembering;
using Farberth.Monitoring.Site;
using Serilog;

namespace Farberth.Service.Loop;

/// <summary>
/// What the monitor remembers, kept once a minute beside the position of the intake log that it stands at. After a restart the monitor
/// goes on from there, and hears what the log holds since.
/// </summary>
/// <param name="file">Null, as <paramref name="cursors"/>: nothing is kept.</param>
sealed class Checkpoints(SiteDefinition site, CheckpointFile? file, LogCursors? cursors, ILogger log)
{
    const string Reader = "checkpoint";

    static readonly TimeSpan Between = TimeSpan.FromMinutes(1);

    DateTimeOffset next = DateTimeOffset.MaxValue;
    Task writing = Task.CompletedTask;
    string? problem;

    /// <summary>The monitor that goes on from the newest checkpoint, and where in the log that is; a new one, and null, where there is none that can be used.</summary>
    public (SiteMonitor Monitor, LogPosition? From) Restore()
    {
        if (Newest() is not { } newest)
            return (new(site), null);
        var read = SiteMemory.Read(newest.Memory);
        if (read.Memory is not { } memory)
        {
            log.Warning("What was remembered before the restart cannot be used: {Problem}. The monitor begins anew", read.Problem);
            return (new(site), null);
        }
        var monitor = new SiteMonitor(site, memory);
        foreach (var forgotten in monitor.Forgotten)
            log.Warning("Not remembered over the restart: {Forgotten}", forgotten);
        return (monitor, newest.Position);
    }

    /// <summary>Nobody may trim the log beyond what the newest checkpoint needs.</summary>
    public void Begin(LogPosition from, DateTimeOffset now)
    {
        cursors?.Add(Reader, from);
        next = now + Between;
    }

    /// <summary>Keeps a checkpoint if one is due. It is written while the monitor goes on.</summary>
    /// <param name="position">The monitor has heard all of the log up to here, and what followed from it is written down.</param>
    public void Keep(SiteMonitor monitor, LogPosition position, DateTimeOffset now)
    {
        if (file is null || !writing.IsCompleted || (now < next && next - now <= Between))
            return;
        next = now + Between;
        var memory = monitor.Memory();
        writing = Task.Run(() => Write(memory, position));
    }

    /// <summary>The last one, before the end.</summary>
    public async Task KeepLast(SiteMonitor monitor, LogPosition position)
    {
        await writing.ConfigureAwait(false);
        if (file is not null)
            Write(monitor.Memory(), position);
    }

    Checkpoint? Newest()
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

    void Write(SiteMemory memory, LogPosition position)
    {
        try
        {
            file!.Write(new(position, memory.ToBytes()));
            cursors!.Move(Reader, position);
            Tell(null);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Tell(e.Message);
        }
    }

    void Tell(string? now)
    {
        if (now is not null && now != problem)
            log.Error("No checkpoint can be kept: {Problem}. A restart would go on from the one before", now);
        if (now is null && problem is not null)
            log.Information("Checkpoints are kept again");
        problem = now;
    }
}
