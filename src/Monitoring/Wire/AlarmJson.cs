using System.Text.Json;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Wire;

/// <summary>An alarm as others read it.</summary>
public static class AlarmJson
{
    public static byte[] Of(Alarm alarm) => WireJson.Object(writer => Write(writer, alarm));

    /// <summary>The alarm object with the moment of its transition in front: one line of a list of transitions.</summary>
    public static byte[] Of(AlarmTransition transition) => WireJson.Object(writer =>
    {
        writer.Time("at", transition.At);
        Write(writer, transition.Alarm);
    });

    static void Write(Utf8JsonWriter writer, Alarm alarm)
    {
        writer.WriteString("id", alarm.Id);
        writer.WriteString("kind", alarm.Kind.Word());
        writer.WriteString("state", alarm.State.Word());
        writer.WriteString("priority", alarm.Priority.ToString().ToLowerInvariant());
        writer.Time("since", alarm.Since);
        WritePlace(writer, alarm.Place);
        writer.WriteStartArray("for");
        foreach (var one in new[] { Audience.Electrician, Audience.Harbormaster, Audience.Boater })
            if (alarm.For.HasFlag(one))
                writer.WriteStringValue(one.ToString().ToLowerInvariant());
        writer.WriteEndArray();
        writer.WriteString("message", alarm.Message);
        writer.WritePropertyName("evidence");
        alarm.Evidence.WriteTo(writer);
    }

    static void WritePlace(Utf8JsonWriter writer, Place place)
    {
        writer.WriteString("dock", place.Dock);
        foreach (var (name, value) in new[]
            { ("cable", place.Cable), ("pedestal", place.Pedestal), ("outlet", place.Outlet), ("slip", place.Slip) })
            if (value != null)
                writer.WriteString(name, value);
    }
}
