namespace Farberth.Monitoring.Telemetry;

/// <summary>The short messages: a pedestal's link, a boat in its slip.</summary>
static class NoticeDecoders
{
    public static LinkNotice? Link(ref PayloadReader reader, string pedestal) =>
        TimeAndFlag(ref reader, "online", "online"u8) is (var time, var online) ? new LinkNotice(time, pedestal, online) : null;

    public static BoatNotice? Boat(ref PayloadReader reader, string slip) =>
        TimeAndFlag(ref reader, "present", "present"u8) is (var time, var present) ? new BoatNotice(time, slip, present) : null;

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
}
