using System.Diagnostics;
using System.Globalization;
using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>Readings of pedestal G2 at a steady rate, through one mosquitto_pub at QoS 1.</summary>
sealed class PacedReadings(MosquittoBroker broker, int perSecond) : IAsyncDisposable
{
    public const string Topic = "farberth/v1/gullhaven/pedestal/G2/reading";

    static readonly TimeSpan Beat = TimeSpan.FromMilliseconds(10);

    readonly Process publisher = Command.Start("mosquitto_pub", "-h", broker.Host, "-p", broker.Port.ToString(CultureInfo.InvariantCulture), "-t", Topic, "-q", "1", "-l");
    readonly long began = TimeProvider.System.GetTimestamp();

    public long Sent { get; private set; }

    /// <summary>Gives so many to the publisher, each when it is due; the moment of the first.</summary>
    public async Task<DateTimeOffset> Send(int readings, double amps, CancellationToken cancel)
    {
        using var beat = new PeriodicTimer(Beat);
        DateTimeOffset? first = null;
        for (var end = Sent + readings; Sent < end; await beat.WaitForNextTickAsync(cancel))
        {
            var due = Math.Min(end, (long)(TimeProvider.System.GetElapsedTime(began).TotalSeconds * perSecond));
            for (; Sent < due; Sent++)
            {
                var now = DateTimeOffset.UtcNow;
                first ??= now;
                await publisher.StandardInput.WriteLineAsync(Reading(Sent, now, amps).AsMemory(), cancel);
            }
            await publisher.StandardInput.FlushAsync(cancel);
        }
        return first!.Value;
    }

    public static string Reading(long seq, DateTimeOffset time, double amps) => new JsonObject
    {
        ["time"] = time.ToString("O", CultureInfo.InvariantCulture),
        ["seq"] = seq,
        ["volts"] = new JsonObject { ["L1"] = Math.Round(120.8 - 0.2 * amps, 1), ["L2"] = 120.3 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
    }.ToJsonString();

    public async ValueTask DisposeAsync()
    {
        publisher.StandardInput.Close();
        await publisher.WaitForExitAsync();
        publisher.Dispose();
    }
}
