using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Telemetry;

/// <summary>What a person decides about an alarm. Whether the alarm's state allows it is judged by the dock.</summary>
static class AlarmCommandDecoder
{
    const int LongestName = 100, LongestReason = 300;

    /// <summary>The last level of a topic that carries a command for an alarm.</summary>
    public static bool Knows(string command) => command is "shelve" or "unshelve" or "out-of-service" or "return-to-service";

    public static AlarmCommand? Decode(ref PayloadReader reader, string command, string alarmId)
    {
        DateTimeOffset? time = null, until = null;
        string? by = null, reason = null;
        while (reader.NextMember())
        {
            if (reader.Is("time"u8))
                time = reader.Time(new Place("time"));
            else if (reader.Is("by"u8))
                by = Printable(ref reader, "by", LongestName);
            else if (command == "shelve" && reader.Is("until"u8))
                until = reader.Time(new Place("until"));
            else if (NeedsReason(command) && reader.Is("reason"u8))
                reason = Printable(ref reader, "reason", LongestReason);
            else
                reader.SkipValue();
        }
        AddMissing(reader.Faults, command, time, by, until, reason);
        if (time is not { } at || by is null || (NeedsReason(command) && reason is null))
            return null;
        return command switch
        {
            "acknowledge" => new Acknowledgement(at, alarmId, by),
            "shelve" => until is { } end && IsEnd(reader.Faults, at, end) ? new ShelveRequest(at, alarmId, by, end, reason!) : null,
            "unshelve" => new UnshelveRequest(at, alarmId, by),
            "out-of-service" => new OutOfServiceRequest(at, alarmId, by, reason!),
            _ => new ReturnToServiceRequest(at, alarmId, by),
        };
    }

    static bool NeedsReason(string command) => command is "shelve" or "out-of-service";

    static void AddMissing(Faults faults, string command, DateTimeOffset? time, string? by, DateTimeOffset? until, string? reason)
    {
        if (time is null)
            faults.AddMissing("time");
        if (by is null)
            faults.AddMissing("by");
        if (command == "shelve" && until is null)
            faults.AddMissing("until");
        if (NeedsReason(command) && reason is null)
            faults.AddMissing("reason");
    }

    /// <summary>After the request, and no later than the longest shelf of all.</summary>
    static bool IsEnd(Faults faults, DateTimeOffset time, DateTimeOffset until)
    {
        if (until > time && until - time <= Shelving.Longest)
            return true;
        faults.Add(RefusalReason.OutOfRange, new Place("until"), $"must be within {Shelving.Longest.TotalHours:0} h after time");
        return false;
    }

    static string? Printable(ref PayloadReader reader, string member, int longest)
    {
        var place = new Place(member);
        var text = reader.Text(place)?.Trim();
        if (text is null || (text.Length is > 0 && text.Length <= longest && !text.Any(char.IsControl)))
            return text;
        var what = member == "by" ? "a name" : "a text";
        reader.Faults.Add(RefusalReason.OutOfRange, place, $"must be {what} of 1 to {longest} printable characters");
        return null;
    }
}
