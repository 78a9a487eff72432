using System.Text.Json;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Wire;

/// <summary>An alarm as others read it.</summary>
public static class AlarmJson
{
    public static byte[] Of(Alarm alarm) => WireJson.Object(writer => Write(writer, alarm));

    /// <summary>The alarm object with the moment of its transition in front: one line of a list of transitions, its reason at the end.</summary>
    public static byte[] Of(AlarmTransition transition) => WireJson.Object(writer =>
    {
        writer.Time("at", transition.At);
        Write(writer, transition.Alarm);
        writer.WriteString("reason", transition.Reason);
        if (transition.Why is { } why)
        {
            writer.WritePropertyName("why");
            JsonSerializer.Serialize(writer, why);
        }
    });

    static void Write(Utf8JsonWriter writer, Alarm alarm)
    {
        writer.WriteString("id", alarm.Id);
        writer.WriteString("kind", alarm.Kind.Word());
        writer.WriteString("state", alarm.State.Word());
        writer.WriteString("priority", alarm.Priority.ToString().ToLowerInvariant());
        writer.Time("since", alarm.Since);
        WritePlace(writer, alarm.Place);
        WriteAudience(writer, "for", alarm.For);
        writer.WriteString("message", alarm.Message);
        if (alarm.Said.Count > 0)
        {
            writer.WritePropertyName("said");
            JsonSerializer.Serialize(writer, alarm.Said);
        }
        writer.WritePropertyName("evidence");
        alarm.Evidence.WriteTo(writer);
        if (Cautions.Of(alarm.Kind) is { } caution)
            writer.WriteString("caution", caution);
        WriteHandling(writer, alarm);
    }

    /// <summary>How it is dealt with; nothing where there is nothing to say.</summary>
    static void WriteHandling(Utf8JsonWriter writer, Alarm alarm)
    {
        if (alarm.SetAside is { } aside)
            writer.Nested("set-aside", () =>
            {
                writer.WriteString("by", aside.By);
                writer.Time("at", aside.At);
                if (aside.Until is { } until)
                    writer.Time("until", until);
                writer.WriteString("reason", aside.Reason);
            });
        if (alarm.SuppressedBy is { } cause)
            writer.WriteString("suppressed-by", cause);
        if (alarm.FirstUp == alarm.Id)
            writer.WriteBoolean("first-up", true);
        else if (alarm.FirstUp is { } first)
            writer.WriteString("first-up-id", first);
        if (alarm.HeldBackFrom != Audience.None)
            WriteAudience(writer, "held-back-from", alarm.HeldBackFrom);
        if (alarm.Chattering > 0)
            writer.WriteNumber("chattering", alarm.Chattering);
    }

    static void WriteAudience(Utf8JsonWriter writer, string name, Audience audience)
    {
        writer.WriteStartArray(name);
        foreach (var one in new[] { Audience.Electrician, Audience.Harbormaster, Audience.Boater })
            if (audience.HasFlag(one))
                writer.WriteStringValue(one.ToString().ToLowerInvariant());
        writer.WriteEndArray();
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
