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
sealed class Checkpoints(CheckpointFile? file, LogCursors? cursors, ILogger log)
{
    public const string Reader = "checkpoint";

    static readonly TimeSpan Between = TimeSpan.FromMinutes(1);

    DateTimeOffset next;
    Task writing = Task.CompletedTask;
    string? problem;

    /// <summary>Keeps a checkpoint if one is due, the first at once. It is written while the monitor goes on.</summary>
    /// <param name="position">The monitor has heard all of the log up to here, and what followed from it is written down.</param>
    public void Keep(SiteMonitor monitor, LogPosition position, DateTimeOffset now)
    {
        // A clock that was set back is no reason to wait longer.
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
