using System.Text.Json.Nodes;

namespace Farberth.Console.Tests;

/// <summary>How late what the service says comes to a client of the broker, in milliseconds: after the tick it speaks of, or in which it was raised.</summary>
sealed class HowLate(Marina marina)
{
    public List<double> States { get; } = [];

    public List<double> Alarms { get; } = [];

    public Task Listen(CancellationToken end) => Task.WhenAll(
        Each("dock/+/state", "time", States, end),
        Each("alarm/+", "since", Alarms, end));

    async Task Each(string filter, string moment, List<double> late, CancellationToken end)
    {
        await using var heard = await marina.Listen(filter);
        var last = DateTimeOffset.UtcNow;
        try
        {
            await foreach (var (_, payload) in heard.All(end))
                if (payload.Length > 0 && JsonNode.Parse(payload) is { } told && told[moment]!.GetValue<DateTimeOffset>() is var at && at > last)
                {
                    late.Add((DateTimeOffset.UtcNow - at).TotalMilliseconds);
                    last = at;
                }
        }
        catch (OperationCanceledException)
        {
            // Long enough.
        }
    }
}
