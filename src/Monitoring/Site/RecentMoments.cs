namespace Farberth.Monitoring.Site;

/// <summary>
/// What one outlet drew lately. The array is only ever written behind its newest moment, so frozen images share it; a full one is left to
/// them and the moments that still count move into a new one.
/// </summary>
sealed class RecentMoments
{
    /// <summary>A reading every 3 s for as long as moments are kept.</summary>
    const int Most = 300;

    OutletMoment[] kept = new OutletMoment[16];
    int start;
    int end;

    /// <summary>Oldest first.</summary>
    public OutletMoments Window { get; private set; } = [];

    /// <summary>Of any leg in any of them, V; 0 where there is none.</summary>
    public double LowestVolts { get; private set; }

    public OutletMoment? Newest => end > start ? kept[end - 1] : null;

    /// <summary>Takes a moment that is newer than the newest, and leaves the rest.</summary>
    public void Add(OutletMoment moment)
    {
        if (moment.Time <= Newest?.Time)
            return;
        var hasLostLowest = start == end;
        for (; start < end && (kept[start].Time < moment.Time - OutletImage.RecentFor || end - start >= Most); start++)
            hasLostLowest |= !(LowestOf(kept[start]) > LowestVolts);
        if (end == kept.Length)
            Move();
        kept[end++] = moment;
        Window = new(new(kept, start, end - start));
        LowestVolts = hasLostLowest ? Lowest() : Math.Min(LowestVolts, LowestOf(moment));
    }

    double Lowest()
    {
        var lowest = double.PositiveInfinity;
        for (var at = start; at < end; at++)
            lowest = Math.Min(lowest, LowestOf(kept[at]));
        return lowest;
    }

    /// <summary>Infinity where no leg has a number.</summary>
    static double LowestOf(OutletMoment moment)
    {
        var volts = moment.Volts; // no number where there is no leg
        return double.MinNumber(double.MinNumber(volts.L1, volts.L2), double.MinNumber(volts.L3, double.PositiveInfinity));
    }

    void Move()
    {
        var still = kept.AsSpan(start, end - start);
        kept = new OutletMoment[2 * still.Length + 16];
        still.CopyTo(kept);
        (start, end) = (0, still.Length);
    }

    /// <summary>What it is made of again, with <see cref="Resume"/>.</summary>
    public IReadOnlyList<OutletMoment> Memory() => Window;

    public void Resume(IReadOnlyList<OutletMoment> memory)
    {
        foreach (var moment in memory)
            Add(moment);
    }
}
