using System.Text.Json.Nodes;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>What the pedestals and the office of Gullhaven say, and which alarms stand when all of it was heard (ISA-18.2's states).</summary>
sealed class TwoPedestals(Twins twins)
{
    // More than a 30 A outlet may carry for hours, and nothing that its breaker would remember.
    const double High = 25.2, Low = 2;
    const int Together = 50;

    public static readonly IReadOnlyList<string> Names = ["G1", "G2"];

    readonly Dictionary<string, double> amps = Names.ToDictionary(name => name, _ => Low);
    readonly Dictionary<string, string> standing = [];
    DateTimeOffset last = DateTimeOffset.UtcNow;

    /// <summary>Of each pedestal; their seqs are 0 and up.</summary>
    public int Readings { get; private set; }

    public IReadOnlyDictionary<string, string> Standing => standing;

    /// <summary>Something happens at one of the two, and readings of both come until it has been seen.</summary>
    /// <param name="isSeen">Asked after each batch of readings.</param>
    public async Task Next(Random random, Func<bool> isSeen, CancellationToken cancel)
    {
        var name = Names[random.Next(Names.Count)];
        var alarm = $"G.{name}.A.overload";
        var isAnswered = standing.TryGetValue(alarm, out var state) && state != "acknowledged" && random.Next(2) == 0;
        if (isAnswered)
            Become(alarm, state == "unacknowledged" ? "acknowledged" : null);
        else
        {
            amps[name] = amps[name] == High ? Low : High;
            Become(alarm, amps[name] == High ? "unacknowledged" : state == "unacknowledged" ? "returned-unacknowledged" : null);
        }
        await Publish(cancel);
        if (isAnswered)
            await twins.Publish($"alarm/{alarm}/acknowledge", new JsonObject { ["time"] = Now, ["by"] = "Ines" }, cancel);
        // One tick's reading alone may be a motor's start, so it takes several ticks.
        while (!isSeen())
        {
            await Publish(cancel);
            await twins.WhenTicked(cancel);
        }
    }

    public async Task Publish(CancellationToken cancel)
    {
        for (var one = 0; one < Together; one++, Readings++)
        {
            // Two readings of one moment are one.
            var now = DateTimeOffset.UtcNow;
            last = now > last ? now : last.AddMilliseconds(1);
            // As the dock's cables have it, so that nothing but the amps is out of order.
            var volts1 = 120.9 - 0.054 * amps.Values.Sum();
            await twins.Publish("pedestal/G1/reading", Reading(volts1, amps["G1"]), cancel);
            await twins.Publish("pedestal/G2/reading", Reading(volts1 - 0.143 * amps["G2"], amps["G2"]), cancel);
        }
    }

    void Become(string alarm, string? state)
    {
        if (state is null)
            standing.Remove(alarm);
        else
            standing[alarm] = state;
    }

    static string Now => DateTimeOffset.UtcNow.ToString("O");

    JsonObject Reading(double volts, double drawn) => new()
    {
        ["time"] = last.ToString("O"),
        ["seq"] = Readings,
        ["volts"] = new JsonObject { ["L1"] = Math.Round(volts, 1), ["L2"] = 120.3 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = drawn } } },
    };
}
