namespace Farberth.Monitoring.Telemetry;

/// <summary>The short messages: a pedestal's link, a boat in its slip, a person who has seen an alarm.</summary>
static class NoticeDecoders
{
    const int LongestName = 100;

    public static LinkNotice? Link(ref PayloadReader reader, string pedestal) =>
        TimeAndFlag(ref reader, "online", "online"u8) is (var time, var online) ? new LinkNotice(time, pedestal, online) : null;

    public static BoatNotice? Boat(ref PayloadReader reader, string slip) =>
        TimeAndFlag(ref reader, "present", "present"u8) is (var time, var present) ? new BoatNotice(time, slip, present) : null;

    public static Acknowledgement? Acknowledgement(ref PayloadReader reader, string alarmId)
    {
        DateTimeOffset? time = null;
        string? by = null;
        while (reader.NextMember())
        {
            if (reader.Is("time"u8))
                time = reader.Time(new Place("time"));
            else if (reader.Is("by"u8))
                by = PersonName(ref reader);
            else
                reader.SkipValue();
        }
        if (time is null)
            reader.Faults.AddMissing("time");
        if (by is null)
            reader.Faults.AddMissing("by");
        return time is { } at && by is not null ? new Acknowledgement(at, alarmId, by) : null;
    }

    static (DateTimeOffset Time, bool Flag)? TimeAndFlag(ref PayloadReader reader, string member, ReadOnlySpan<byte> memberUtf8)
    {
        DateTimeOffset? time = null;
        bool? flag = null;
        while (reader.NextMember())
        {
            if (reader.Is("time"u8))
                time = reader.Time(new Place("time"));
            else if (reader.Is(memberUtf8))
                flag = reader.Flag(new Place(member));
            else
                reader.SkipValue();
        }
        if (time is null)
            reader.Faults.AddMissing("time");
        if (flag is null)
            reader.Faults.AddMissing(member);
        return time is { } at && flag is { } value ? (at, value) : null;
    }

    static string? PersonName(ref PayloadReader reader)
    {
        var place = new Place("by");
        var name = reader.Text(place)?.Trim();
        if (name is null || (name.Length is > 0 and <= LongestName && !name.Any(char.IsControl)))
            return name;
        reader.Faults.Add(RefusalReason.OutOfRange, place, $"must be a name of 1 to {LongestName} printable characters");
        return null;
    }
}
