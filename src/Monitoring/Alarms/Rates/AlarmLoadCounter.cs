namespace Farberth.Monitoring.Alarms.Rates;

/// <summary>Counts one person's alarms, minute by minute over a day and by periods of 10 minutes since the watch began.</summary>
sealed class AlarmLoadCounter(Audience one)
{
    const int MinutesOfDay = 24 * 60, MinutesOfPeriod = 10;

    // A ring: the count of a minute stands at its number modulo the day.
    readonly int[] minutes = new int[MinutesOfDay];
    long minute = -1;
    int raised, periods, floods, busiest, inPeriod;

    public AlarmLoad Load => new(
        one, raised, Last(MinutesOfPeriod), Last(60), Last(MinutesOfDay), periods, floods, busiest);

    public void Advance(DateTimeOffset now)
    {
        var next = now.UtcTicks / TimeSpan.TicksPerMinute;
        if (next == minute)
            return;
        if (next < minute || next - minute >= MinutesOfDay)
            Array.Clear(minutes); // the clock was set back, or nobody looked for a day
        else
            for (var at = minute + 1; at <= next; at++)
                minutes[at % MinutesOfDay] = 0;
        if (next / MinutesOfPeriod != minute / MinutesOfPeriod || periods == 0)
            (periods, inPeriod) = (periods + 1, 0);
        minute = next;
    }

    /// <summary>Raised in the minute that was last advanced to.</summary>
    public void Take(Alarm alarm)
    {
        if (!alarm.For.HasFlag(one))
            return;
        raised++;
        minutes[minute % MinutesOfDay]++;
        floods += ++inPeriod == AlarmGuidance.Flood + 1 ? 1 : 0;
        busiest = Math.Max(busiest, inPeriod);
    }

    int Last(int count)
    {
        var sum = 0;
        for (var back = 0; back < count && back <= minute; back++)
            sum += minutes[(minute - back) % MinutesOfDay];
        return sum;
    }

    public AlarmLoadMemory Memory() => new([.. minutes], minute, raised, periods, floods, busiest, inPeriod);

    public void Resume(AlarmLoadMemory memory)
    {
        memory.Minutes.CopyTo(minutes, 0);
        (minute, raised, periods) = (memory.Minute, memory.Raised, memory.Periods);
        (floods, busiest, inPeriod) = (memory.Floods, memory.Busiest, memory.InPeriod);
    }
}

sealed record AlarmLoadMemory(int[] Minutes, long Minute, int Raised, int Periods, int Floods, int Busiest, int InPeriod);
