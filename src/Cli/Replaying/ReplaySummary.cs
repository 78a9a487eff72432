using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rates;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Views;

namespace Farberth.Cli.Replaying;

/// <param name="Ignored">Of the messages, those that are none of the service's business, such as its own.</param>
/// <param name="Damaged">Lines that are no message.</param>
/// <param name="Ticks">Steps of all docks together.</param>
/// <param name="Raised">Alarms raised, by kind.</param>
sealed record ReplaySummary(
    long Messages, long Ignored, long Damaged, ImmutableSortedDictionary<RefusalReason, RefusalTally> Refusals,
    long Ticks, long Transitions, IReadOnlyDictionary<AlarmKind, int> Raised, DateTimeOffset? First, DateTimeOffset? Last)
{
    public AlarmRates Rates { get; init; } = AlarmRates.None;

    public string Text()
    {
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"{Messages} messages from {First:u} to {Last:u}; {Ignored} of them none of the service's business");
        if (Damaged > 0)
            text.AppendLine(CultureInfo.InvariantCulture, $"{Damaged} damaged lines");
        text.AppendLine(Refusals.IsEmpty ? "nothing refused"
            : "refused: " + string.Join(", ", Refusals.Select(pair => $"{pair.Value.Count} {pair.Key.Word()}")));
        text.AppendLine(CultureInfo.InvariantCulture, $"{Ticks} dock steps, {Transitions} alarm transitions");
        text.Append(Raised.Count == 0 ? "no alarm raised"
            : "alarms raised: " + string.Join(", ", Raised.Select(pair => $"{pair.Value} {pair.Key.Word()}")));
        foreach (var line in RateWords.Whole(Rates))
            text.AppendLine().Append(line);
        return Raised.Count == 0 ? text.ToString() : text.AppendLine().Append(Cautions.Text).ToString();
    }

    public string Json() => new JsonObject
    {
        ["messages"] = Messages,
        ["ignored"] = Ignored,
        ["damaged-lines"] = Damaged,
        ["refused"] = new JsonObject(Refusals.Select(pair => KeyValuePair.Create<string, JsonNode?>(pair.Key.Word(), pair.Value.Count))),
        ["steps"] = Ticks,
        ["transitions"] = Transitions,
        ["raised"] = new JsonObject(Raised.Select(pair => KeyValuePair.Create<string, JsonNode?>(pair.Key.Word(), pair.Value))),
        ["rates"] = new JsonObject(Rates.Loads.Select(load => KeyValuePair.Create<string, JsonNode?>(load.For.ToString().ToLowerInvariant(), Json(load)))),
        ["priorities"] = new JsonObject(Rates.Priorities.Select(pair => KeyValuePair.Create<string, JsonNode?>(pair.Key.ToString().ToLowerInvariant(), pair.Value))),
        ["top-ten"] = new JsonObject(Rates.Top.Select(pair => KeyValuePair.Create<string, JsonNode?>(pair.Key, pair.Value))),
        ["chattered"] = Rates.Chattered,
        ["stale"] = Rates.Stale,
        ["first"] = First?.ToString("O"),
        ["last"] = Last?.ToString("O"),
    }.ToJsonString();

    static JsonObject Json(AlarmLoad load) => new()
    {
        ["raised"] = load.Raised,
        ["per-10-minutes"] = Math.Round(load.PerPeriod, 3),
        ["busiest-10-minutes"] = load.Busiest,
        ["flood-share"] = Math.Round(load.FloodShare, 4),
    };
}
