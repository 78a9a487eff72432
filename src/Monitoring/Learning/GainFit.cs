namespace Farberth.Monitoring.Learning;

// d = (read − others' volts)/others' volts, once a reading; g the gain, constant or slow:
//
//     d = g + b + n,     b: what the others are off by together, sd s_b, alike for hours;
//                        n: readings of different moments, sd s_n, alike for some minutes.
//
// b does not average out and n does. Means fade with e^(−Δt/τ); with t the time that they rest on and t_n the time in which
// n is alike,
//
//     m = mean d,   s² = mean s_b² + s_n²/(t/t_n),   g = m·s₀²/(s₀² + s²),   sd² = s²·s₀²/(s₀² + s²),
//
// s₀ the prior of a gain. s_n is the spread of d about m, and never less than what two readings ten seconds apart differ by.

/// <summary>The learned gain of one voltmeter. Mutable: it takes reading after reading.</summary>
sealed class GainFit
{
    /// <summary>Assumed: long against what boats switch, short against what a meter drifts in.</summary>
    static readonly TimeSpan τ = TimeSpan.FromHours(2);

    /// <summary>Assumed: neighbours' loads come and go in minutes.</summary>
    static readonly TimeSpan AlikeFor = TimeSpan.FromMinutes(10);

    /// <summary>Of one reading to the next, share of the volts (assumed; 0.36 V of 120 V).</summary>
    const double LeastNoise = 0.003;

    /// <summary>s₀: a meter that is broken may be off by more, one that is sound is off by less (assumed).</summary>
    const double PriorSd = 0.01;

    /// <summary>A reading stands for no longer than this.</summary>
    static readonly TimeSpan LongestPause = TimeSpan.FromMinutes(1);

    TimeSpan waited;
    double hours;
    double shares;
    double squares;
    double others;

    public LearnedGain Gain
    {
        get
        {
            var mean = shares / hours;
            var noise = Math.Max(squares / hours - mean * mean, LeastNoise * LeastNoise);
            var variance = others / hours + noise * AlikeFor.TotalHours / hours;
            var kept = PriorSd * PriorSd / (PriorSd * PriorSd + variance);
            return new(mean * kept, Math.Sqrt(variance * kept));
        }
    }

    public void Wait(TimeSpan elapsed) => waited += elapsed;

    /// <param name="share">d.</param>
    /// <param name="othersSd">s_b, as a share of the volts.</param>
    public void Add(double share, double othersSd)
    {
        var span = waited < LongestPause ? Math.Max(waited.TotalHours, 1.0 / 3600) : LongestPause.TotalHours;
        var kept = Math.Exp(-span / τ.TotalHours);
        waited = TimeSpan.Zero;
        hours = hours * kept + span;
        shares = shares * kept + span * share;
        squares = squares * kept + span * share * share;
        others = others * kept + span * othersSd * othersSd;
    }

    public GainFitMemory Memory() => new(waited, hours, shares, squares, others);

    public void Resume(GainFitMemory memory) =>
        (waited, hours, shares, squares, others) = (memory.Waited, memory.Hours, memory.Shares, memory.Squares, memory.Others);
}

/// <summary>Sums over the time that they rest on.</summary>
sealed record GainFitMemory(TimeSpan Waited, double Hours, double Shares, double Squares, double Others);
