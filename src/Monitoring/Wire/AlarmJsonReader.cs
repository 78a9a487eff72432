using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Wire;

/// <summary>Reads back what <see cref="AlarmJson"/> has written; times to the millisecond.</summary>
public static class AlarmJsonReader
{
    /// <param name="json">One line of a list of transitions.</param>
    /// <param name="from">The state before, which the line does not have.</param>
    /// <exception cref="FormatException">It is no such line.</exception>
    public static AlarmTransition Transition(string json, AlarmState from)
    {
        try
        {
            var members = JsonNode.Parse(json)!.AsObject();
            return new(Time(members["at"]!), from, Alarm(members), Text(members["reason"])!) { Why = members["why"]?.Deserialize<Sentence>() };
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or NullReferenceException or ArgumentException)
        {
            throw new FormatException($"no transition of an alarm: {e.Message}", e);
        }
    }

    /// <summary>The state that a word names.</summary>
    /// <exception cref="FormatException">None.</exception>
    public static AlarmState State(string word) => Enum.GetValues<AlarmState>().Cast<AlarmState?>()
        .FirstOrDefault(state => state!.Value.Word() == word) ?? throw new FormatException($"no state of an alarm: {word}");

    static Alarm Alarm(JsonObject alarm) => new(
        Text(alarm["id"])!,
        AlarmKinds.TryParse(Text(alarm["kind"])!, out var kind) ? kind : throw new FormatException("a kind of alarm that nobody knows"),
        State(Text(alarm["state"])!),
        Enum.Parse<Priority>(Text(alarm["priority"])!, ignoreCase: true),
        Time(alarm["since"]!),
        new(Text(alarm["dock"])!, Text(alarm["cable"]), Text(alarm["pedestal"]), Text(alarm["outlet"]), Text(alarm["slip"])),
        Audience(alarm["for"]),
        Text(alarm["message"])!,
        alarm["evidence"]!.DeepClone().AsObject())
    {
        Said = alarm["said"]?.Deserialize<IReadOnlyList<Sentence>>() ?? [],
        SetAside = alarm["set-aside"] is JsonObject aside ? SetAside(aside) : null,
        SuppressedBy = Text(alarm["suppressed-by"]),
        FirstUp = alarm["first-up"] != null ? Text(alarm["id"]) : Text(alarm["first-up-id"]),
        HeldBackFrom = Audience(alarm["held-back-from"]),
        Chattering = (int?)alarm["chattering"] ?? 0,
    };

    static SetAside SetAside(JsonObject aside) => new(
        Text(aside["by"])!, Time(aside["at"]!), aside["until"] is { } until ? Time(until) : null, Text(aside["reason"])!);

    static Audience Audience(JsonNode? words) => words is not JsonArray array ? Alarms.Audience.None
        : array.Aggregate(Alarms.Audience.None, (all, word) => all | Enum.Parse<Audience>(Text(word)!, ignoreCase: true));

    static string? Text(JsonNode? node) => (string?)node;

    static DateTimeOffset Time(JsonNode node) => node.GetValue<DateTimeOffset>();
}
