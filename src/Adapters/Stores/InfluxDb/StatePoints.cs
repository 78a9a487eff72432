using System.Text.Json;
using Farberth.Monitoring.Telemetry;
using static Farberth.Adapters.Stores.InfluxDb.InfluxNames;

namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>What the service itself publishes, as points: docks' states and steps of alarms, from the very bytes that went out.</summary>
/// <param name="site">Its name.</param>
public sealed class StatePoints(string site)
{
    readonly string prefix = $"farberth/v1/{site}/";

    /// <summary>The points of one message; none where it is of another kind.</summary>
    /// <param name="recorded">At the time of its tick.</param>
    /// <exception cref="JsonException">Not what the service writes.</exception>
    public IEnumerable<Point> Of(RecordedMessage recorded) =>
        !recorded.Message.Topic.StartsWith(prefix, StringComparison.Ordinal) ? [] : recorded.Message.Topic[prefix.Length..].Split('/') switch
        {
            ["dock", var dock, "state"] => Dock(dock, recorded),
            ["alarm", var id] => [Alarm(id.Split('.'), recorded)],
            _ => [],
        };

    List<Point> Dock(string dock, RecordedMessage recorded)
    {
        using var document = JsonDocument.Parse(recorded.Message.Payload);
        var state = document.RootElement;
        var points = new List<Point> { new(Measurements.Dock, At(dock), OfDock(state), recorded.At) };
        foreach (var pedestal in Members(state, "pedestals"))
            foreach (var leg in pedestal.Value.EnumerateObject())
                Add(points, Measurements.Estimate, [(Tags.Dock, dock), (Tags.Leg, leg.Name), (Tags.Pedestal, pedestal.Name), (Tags.Site, site)],
                    [.. Number(leg.Value, "volts", Fields.Volts), .. Number(leg.Value, "sd", Fields.VoltsSd), .. Number(leg.Value, "amps", Fields.Amps)], recorded);
        foreach (var cable in Members(state, "cables"))
            Add(points, Measurements.Cable, [(Tags.Cable, cable.Name), (Tags.Dock, dock), (Tags.Site, site)],
                [.. Number(cable.Value, "load", Fields.Load)], recorded);
        return points;
    }

    static List<(string, FieldText)> OfDock(JsonElement state)
    {
        var fields = new List<(string, FieldText)>();
        if (state.TryGetProperty("transformer", out var transformer))
            fields.AddRange([
                .. Number(transformer, "kva", Fields.KilovoltAmperes), .. Number(transformer, "load", Fields.Load),
                .. Number(transformer, "hot-spot", Fields.HotSpotCelsius)]);
        fields.AddRange(Number(state.GetProperty("alarms"), "standing", Fields.AlarmsStanding));
        return fields;
    }

    /// <summary>An alarm's id names its dock, its place where it has one, and its kind. No payload: it is normal again.</summary>
    Point Alarm(string[] id, RecordedMessage recorded)
    {
        List<(string, string)> tags = [(Tags.Dock, id[0]), (Tags.Kind, id[^1])];
        if (id.Length > 3)
            tags.Add((Tags.Outlet, id[2]));
        if (id.Length > 2)
            tags.Add((Tags.Pedestal, id[1]));
        tags.Add((Tags.Site, site));
        return new(Measurements.Alarm, tags, OfAlarm(recorded.Message.Payload), recorded.At);
    }

    static List<(string, FieldText)> OfAlarm(ReadOnlyMemory<byte> payload)
    {
        if (payload.IsEmpty)
            return [(Fields.State, FieldText.Of("normal")), (Fields.Standing, FieldText.Of(false))];
        using var document = JsonDocument.Parse(payload);
        var state = document.RootElement.GetProperty("state").GetString()!;
        return
        [
            (Fields.Priority, FieldText.Of(document.RootElement.GetProperty("priority").GetString()!)),
            (Fields.State, FieldText.Of(state)),
            (Fields.Standing, FieldText.Of(state is "unacknowledged" or "acknowledged")),
        ];
    }

    static void Add(List<Point> points, string measurement, List<(string, string)> tags, List<(string, FieldText)> fields, RecordedMessage recorded)
    {
        if (fields.Count > 0)
            points.Add(new(measurement, tags, fields, recorded.At));
    }

    static IEnumerable<JsonProperty> Members(JsonElement state, string name) =>
        state.TryGetProperty(name, out var all) ? all.EnumerateObject() : [];

    static IEnumerable<(string, FieldText)> Number(JsonElement of, string member, string field) =>
        of.TryGetProperty(member, out var value) && value.ValueKind == JsonValueKind.Number ? [(field, FieldText.Of(value.GetDouble()))] : [];

    List<(string, string)> At(string dock) => [(Tags.Dock, dock), (Tags.Site, site)];
}
