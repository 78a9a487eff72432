namespace Farberth.Monitoring.Risk;

/// <summary>One outlet's amps of the last hour, and where they go from there as long as there is no better forecast.</summary>
/// <remarks>
/// As far ahead as back: for m minutes from now it takes the root mean square of the last m minutes, at least of
/// <see cref="Shortest"/>. What has lasted a minute is expected for another, what has lasted an hour for another hour. To that
/// comes the slope of the last half hour, the median of the differences between its first and its second half minute by minute,
/// no steeper than <see cref="SteepestShare"/> of the rating in an hour either way. All assumed.
/// </remarks>
sealed class AmpsTrend(double ratingAmps)
{
    const int Minutes = 60;
    const int Shortest = 2;
    const double SteepestShare = 0.15;

    readonly double[] squares = new double[Minutes];
    readonly double[] differences = new double[15];
    long minute;
    int known;
    double sum;
    int count;

    /// <summary>Slope of the last half hour, A per minute.</summary>
    public double SlopeAmps { get; private set; }

    /// <param name="seconds">Since some fixed moment.</param>
    public void Add(double seconds, double amps)
    {
        var now = (long)Math.Floor(seconds / 60);
        if (count > 0 && now != minute)
            Close(now);
        minute = now;
        sum += amps * amps;
        count++;
    }

    public double Ahead(double minutes, double presentAmps)
    {
        var back = Math.Min(known, (int)Math.Max(Shortest, minutes));
        var square = presentAmps * presentAmps;
        if (back > 0)
        {
            var total = square;
            for (var at = 0; at < back - 1; at++)
                total += squares[at];
            square = total / back;
        }
        return Math.Max(0, Math.Sqrt(square) + SlopeAmps * minutes);
    }

    void Close(long now)
    {
        var passed = (int)Math.Min(Minutes, now - minute);
        Array.Copy(squares, 0, squares, passed, Minutes - passed);
        Array.Fill(squares, sum / count, 0, passed);
        known = Math.Min(Minutes, known + passed);
        (sum, count) = (0, 0);
        if (known < 2 * differences.Length)
            return;
        for (var at = 0; at < differences.Length; at++)
            differences[at] = Math.Sqrt(squares[at]) - Math.Sqrt(squares[at + differences.Length]);
        Array.Sort(differences);
        var steepest = SteepestShare * ratingAmps / 60;
        SlopeAmps = Math.Clamp(differences[differences.Length / 2] / differences.Length, -steepest, steepest);
    }

    public AmpsTrendMemory Memory() => new([.. squares], minute, known, sum, count, SlopeAmps);

    public void Resume(AmpsTrendMemory memory)
    {
        memory.Squares.CopyTo(squares, 0);
        (minute, known, sum, count, SlopeAmps) = (memory.Minute, memory.Known, memory.Sum, memory.Count, memory.SlopeAmps);
    }
}

sealed record AmpsTrendMemory(double[] Squares, long Minute, int Known, double Sum, int Count, double SlopeAmps);
