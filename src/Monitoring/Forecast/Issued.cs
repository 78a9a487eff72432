namespace Farberth.Monitoring.Forecast;

/// <summary>
/// What was once expected of one quantity, at every horizon, by the hour over some weeks: 2.6 kB a day. Against what then came, it
/// shows how wide the next forecast must be.
/// </summary>
/// <param name="days">How long it is kept; not more than the values are.</param>
sealed class Issued(int days)
{
    /// <summary>Hours of the day to each side whose errors count (assumed).</summary>
    const int SideHours = 3;

    /// <summary>Shorter than the memory of the usual (assumed): forecasts get better as they learn, and errors of the first days are too large.</summary>
    const double HalfLifeDays = 6;

    /// <summary>Of the other kind of state: little (assumed).</summary>
    const double OtherStateWeight = 0.05;

    readonly float[] expected = new float[days * 24 * Quarters.Ahead.Count];
    readonly long[] hours = new long[days * 24];
    readonly bool[] states = new bool[days * 24];
    readonly List<(int Row, long Quarter, double Weight)> alike = [];

    /// <param name="quarter">After which it was made; only those on the full hour are kept.</param>
    /// <param name="state">Whatever sets two kinds of situations apart.</param>
    public void Add(long quarter, ReadOnlySpan<double> centres, bool state)
    {
        if (quarter % Quarters.PerHour != 0)
            return;
        var row = (int)(quarter / Quarters.PerHour % hours.Length);
        (hours[row], states[row]) = (quarter / Quarters.PerHour, state);
        for (var at = 0; at < centres.Length; at++)
            expected[row * centres.Length + at] = (float)centres[at];
    }

    /// <summary>Finds every past forecast made at about this hour of the day, with its weight: the newer and the nearer, the more.</summary>
    public void LookBack(long now, bool state)
    {
        alike.Clear();
        var hour = now / Quarters.PerHour;
        for (var ago = 0; ago < days; ago++)
        {
            var dayWeight = Math.Pow(2, -ago / HalfLifeDays);
            for (var side = -SideHours; side <= SideHours; side++)
            {
                var made = hour - 24 * ago + side;
                var row = (int)(made % hours.Length);
                if (made < hour && hours[row] == made)
                    alike.Add((row, made * Quarters.PerHour, dayWeight
                        * (1 - Math.Abs(side) / (SideHours + 1.0)) * (states[row] == state ? 1 : OtherStateWeight)));
            }
        }
    }

    /// <summary>What <see cref="LookBack"/> found.</summary>
    public IReadOnlyList<(int Row, long Quarter, double Weight)> Alike => alike;

    public double Expected(int row, int horizon) => expected[row * Quarters.Ahead.Count + horizon];

    public IssuedMemory Memory() => new([.. expected], [.. hours], [.. states]);

    public void Resume(IssuedMemory memory)
    {
        memory.Expected.CopyTo(expected, 0);
        memory.Hours.CopyTo(hours, 0);
        memory.States.CopyTo(states, 0);
    }
}

/// <param name="Expected">Row after row, a row an hour.</param>
sealed record IssuedMemory(float[] Expected, long[] Hours, bool[] States);
