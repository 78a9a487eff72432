using System.Text.Json;
using System.Text.RegularExpressions;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Telemetry;

/// <summary>What became of one message: taken, refused (both, where only a part was good), or none of the service's business.</summary>
/// <param name="Ignored">The service's own output, a cleared retained message, or a topic of another site.</param>
public sealed record Decoded(Inbound? Value, IReadOnlyList<Refusal> Refusals, bool Ignored)
{
    public static readonly Decoded Nothing = new(null, [], true);
}

/// <summary>
/// From bytes to what they say, checked against the site file. Never throws on what comes from outside: whatever is not
/// understood becomes a refusal with its reason.
/// </summary>
public sealed partial class InboundDecoder(SiteDefinition site)
{
    /// <summary>Payloads over this many bytes are refused unread.</summary>
    public const int LargestPayload = 64 * 1024;

    /// <summary>A message's time may be this far ahead of the service's.</summary>
    public static readonly TimeSpan FurthestAhead = TimeSpan.FromMinutes(5);

    const int MostLevels = 3;

    readonly string prefix = $"farberth/v1/{site.Name}/";
    readonly ReadingDecoder readings = new(site.Supply);
    readonly Dictionary<string, PedestalDefinition> pedestals =
        site.Docks.Values.SelectMany(dock => dock.Pedestals.Values).ToDictionary(pedestal => pedestal.Name);

    delegate Inbound? Body(ref PayloadReader reader);

    public Decoded Decode(WireMessage message, DateTimeOffset now)
    {
        if (!message.Topic.StartsWith(prefix, StringComparison.Ordinal))
            return Decoded.Nothing;
        var faults = new Faults(message, now);
        return message.Topic[prefix.Length..].Split('/', MostLevels + 1) switch
        {
            ["pedestal", var name, "reading"] => Reading(message, name, now, faults),
            ["pedestal", _, "link"] or ["weather"] or ["slip", _, "boat"] when message.Payload.IsEmpty => Decoded.Nothing,
            ["pedestal", var name, "link"] => Link(message, name, now, faults),
            ["weather"] => Whole(message, now, faults, WeatherDecoder.Decode),
            ["slip", var slip, "boat"] => Boat(message, slip, now, faults),
            ["alarm", var id, "acknowledge"] when AlarmId().IsMatch(id) =>
                Whole(message, now, faults, (ref reader) => AlarmCommandDecoder.Decode(ref reader, "acknowledge", id)),
            ["alarm", var id, var command] when AlarmCommandDecoder.Knows(command) =>
                AlarmAddress.Exists(site, id)
                    ? Whole(message, now, faults, (ref reader) => AlarmCommandDecoder.Decode(ref reader, command, id))
                    : Refuse(faults, RefusalReason.UnknownAlarm, "the site can have no alarm of that name"),
            ["alarm", _] or ["slip", _, "advice"] or ["dock", _, "state" or "forecast"] => Decoded.Nothing,
            _ => Refuse(faults, RefusalReason.UnknownTopic, "no message is expected at this topic"),
        };
    }

    Decoded Reading(WireMessage message, string name, DateTimeOffset now, Faults faults) =>
        pedestals.TryGetValue(name, out var pedestal)
            ? Whole(message, now, faults, (ref reader) => readings.Decode(ref reader, pedestal))
            : UnknownPedestal(name, faults);

    Decoded Link(WireMessage message, string name, DateTimeOffset now, Faults faults) =>
        pedestals.ContainsKey(name)
            ? Whole(message, now, faults, (ref reader) => NoticeDecoders.Link(ref reader, name))
            : UnknownPedestal(name, faults);

    Decoded Boat(WireMessage message, string slip, DateTimeOffset now, Faults faults) =>
        site.Slips.ContainsKey(slip)
            ? Whole(message, now, faults, (ref reader) => NoticeDecoders.Boat(ref reader, slip))
            : Refuse(faults, RefusalReason.UnknownSlip, $"the site file has no slip {slip}");

    /// <summary>What holds for every kind: the size, one JSON object, and a time that is not ahead.</summary>
    static Decoded Whole(WireMessage message, DateTimeOffset now, Faults faults, Body body)
    {
        var payload = message.Payload.Span;
        if (payload.Length > LargestPayload)
            return Refuse(faults, RefusalReason.TooLarge, $"the payload is over {LargestPayload} bytes");
        if (!JsonText.IsCheckedByReading(payload) && JsonText.Fault(payload) is { } fault)
            return Refuse(faults, RefusalReason.NotJson, fault);
        try
        {
            return Object(payload, now, faults, body);
        }
        catch (JsonException e)
        {
            return Refuse(new Faults(message, now), RefusalReason.NotJson, JsonText.Fault(payload) ?? e.Message);
        }
    }

    static Decoded Object(ReadOnlySpan<byte> payload, DateTimeOffset now, Faults faults, Body body)
    {
        var reader = new PayloadReader(payload, faults);
        var isObject = reader.EnterObject(new Place("payload"));
        var value = isObject ? body(ref reader) : null;
        reader.ReadToEnd();
        if (!isObject)
            return faults.Count > 0 ? new Decoded(null, faults.Refusals, false)
                : Refuse(faults, RefusalReason.WrongType, "payload must be an object");
        if (value?.Time > now + FurthestAhead)
            return Refuse(faults, RefusalReason.TimeAhead, $"time {value.Time:O} is more than {FurthestAhead.TotalMinutes} minutes ahead");
        return new Decoded(value, faults.Refusals, false);
    }

    static Decoded UnknownPedestal(string name, Faults faults) =>
        Refuse(faults, RefusalReason.UnknownPedestal, $"the site file has no pedestal {name}");

    static Decoded Refuse(Faults faults, RefusalReason reason, string detail)
    {
        faults.Add(reason, detail);
        return new Decoded(null, faults.Refusals, false);
    }

    [GeneratedRegex(@"^[A-Za-z0-9_.-]{1,200}\z")]
    private static partial Regex AlarmId();
}
