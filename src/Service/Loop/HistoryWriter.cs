using Farberth.Adapters.Stores.Embedded;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Watched;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service.Loop;

/// <summary>
/// Carries readings from the intake log into the history. The more come at a time, the fewer minutes are packed twice,
/// so it waits a little between batches; the log keeps what waits.
/// </summary>
sealed class HistoryWriter(SiteDefinition site, IntakeLog log, LogCursors cursors, History history, ServiceMetrics metrics, TimeProvider clock, ILogger logger)
    : BackgroundService
{
    /// <summary>Its name among the log's readers.</summary>
    public const string Reader = "history";

    const int LargestBatch = 20_000;

    static readonly TimeSpan BetweenBatches = TimeSpan.FromSeconds(5), BetweenExpiries = TimeSpan.FromHours(1);

    readonly InboundDecoder decoder = new(site);
    DateTimeOffset nextExpiry;
    volatile string? problem;

    /// <summary>Why the history takes nothing; null while all is well. For any thread.</summary>
    public string? Problem => problem;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (true)
        {
            await log.WhenBeyond(history.Cursor, stoppingToken).ConfigureAwait(false);
            // Everything below waits for the disk; the thread it started on has other things to do.
            var isBehind = await Task.Run(WriteBatch, stoppingToken).ConfigureAwait(false);
            if (!isBehind)
                await Task.Delay(BetweenBatches, clock, stoppingToken).ConfigureAwait(false);
        }
    }

    /// <summary>True where a whole batch was written, so that there may be more.</summary>
    bool WriteBatch()
    {
        var now = clock.GetUtcNow();
        var end = log.End;
        var (count, next, readings) = (0, history.Cursor, new List<Reading>());
        try
        {
            foreach (var (after, message) in log.Read(history.Cursor).Take(LargestBatch))
            {
                (count, next) = (count + 1, after);
                if (decoder.Decode(message.Message, message.At).Value is Reading reading)
                    readings.Add(reading);
            }
        }
        catch (IOException e)
        {
            Tell(e.Message);
            return false;
        }
        // Nothing to read before the end: the rest is damaged, and whoever waits for more must not wait for that.
        var stored = history.Append(readings, count == 0 ? end : next);
        Tell(stored.Problem);
        if (stored.IsDurable)
            cursors.Move(Reader, history.Cursor);
        if (now >= nextExpiry)
        {
            Tell(history.Expire(now) ?? stored.Problem);
            nextExpiry = now + BetweenExpiries;
        }
        return stored.IsDurable && count == LargestBatch;
    }

    void Tell(string? now)
    {
        if (now is not null && problem is null)
            metrics.StoreFailed("history");
        if (now is not null && now != problem)
            logger.Error("The history takes no readings: {Problem}. The intake log keeps them", now);
        if (now is null && problem is not null)
            logger.Information("The history takes readings again");
        problem = now;
    }
}
