using System.Text.Json.Nodes;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>What the pedestals and the office of Gullhaven say, and which alarms stand when all of it was heard (ISA-18.2's states).</summary>
sealed class TwoPedestals(Twins twins)
{
    // The site's limit is 15 A.
    const double High = 16, Low = 0.5;
    const int Together = 50, Outlets = 40, MostStanding = 3;

    public static readonly IReadOnlyList<string> Names = ["G1", "G2"];

    readonly Dictionary<(string Pedestal, string Outlet), double> amps = [];
    readonly SortedDictionary<string, string> standing = new(StringComparer.Ordinal);
    DateTimeOffset last = DateTimeOffset.UtcNow;
    int raised;

    /// <summary>Of each pedestal; their seqs are 0 and up.</summary>
    public int Readings { get; private set; }

    public IReadOnlyDictionary<string, string> Standing => standing;

    /// <summary>An alarm is raised, answered or over, and readings of both pedestals come until that has been seen.</summary>
    /// <param name="isSeen">Asked after each batch of readings.</param>
    public async Task Next(Random random, Func<bool> isSeen, CancellationToken cancel)
    {
        var answered = standing.Count == 0 || (standing.Count < MostStanding && random.Next(2) == 0) ? Raise() : GoOn(random);
        await Publish(cancel);
        if (answered is not null)
            await twins.Publish($"alarm/{answered}/acknowledge", new JsonObject { ["time"] = DateTimeOffset.UtcNow.ToString("O"), ["by"] = "Ines" }, cancel);
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
            await twins.Publish("pedestal/G1/reading", Reading("G1", volts1), cancel);
            await twins.Publish("pedestal/G2/reading", Reading("G2", volts1 - 0.143 * Of("G2").Sum(outlet => outlet.Value)), cancel);
        }
    }

    /// <summary>Of an outlet that has had its turn longest ago: one that is raised again and again clears more slowly.</summary>
    string? Raise()
    {
        var (pedestal, outlet) = (Names[raised % Names.Count], $"P{raised / Names.Count % Outlets}");
        raised++;
        amps[(pedestal, outlet)] = High;
        standing[$"G.{pedestal}.{outlet}.overload"] = "unacknowledged";
        return null;
    }

    /// <returns>The alarm that somebody answers; null: its amps go down.</returns>
    string? GoOn(Random random)
    {
        var (alarm, state) = standing.ElementAt(random.Next(standing.Count));
        var parts = alarm.Split('.');
        if (state == "returned-unacknowledged" || (state == "unacknowledged" && random.Next(2) == 0))
        {
            Become(alarm, state == "unacknowledged" ? "acknowledged" : null);
            return alarm;
        }
        amps[(parts[1], parts[2])] = Low;
        Become(alarm, state == "unacknowledged" ? "returned-unacknowledged" : null);
        return null;
    }

    void Become(string alarm, string? state)
    {
        if (state is null)
            standing.Remove(alarm);
        else
            standing[alarm] = state;
    }

    IEnumerable<KeyValuePair<(string Pedestal, string Outlet), double>> Of(string pedestal) => amps.Where(outlet => outlet.Key.Pedestal == pedestal);

    JsonObject Reading(string pedestal, double volts) => new()
    {
        ["time"] = last.ToString("O"),
        ["seq"] = Readings,
        ["volts"] = new JsonObject { ["L1"] = Math.Round(volts, 1), ["L2"] = 120.3 },
        ["outlets"] = new JsonObject(Of(pedestal).Select(outlet => KeyValuePair.Create<string, JsonNode?>(
            outlet.Key.Outlet, new JsonObject { ["amps"] = new JsonObject { ["L1"] = outlet.Value } }))),
    };
}
