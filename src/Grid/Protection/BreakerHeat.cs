using System.Numerics;
using System.Runtime.InteropServices;

namespace Farberth.Grid.Protection;

/// <summary>When a breaker opens, if it does.</summary>
/// <param name="EarliestMinutes">One in twenty of those that open is earlier.</param>
/// <param name="LatestMinutes">One in twenty of those that open is later.</param>
public readonly record struct TripInterval(double EarliestMinutes, double LatestMinutes);

/// <param name="Opens">Null: at these amps it does not open within the hour.</param>
/// <param name="Within15Minutes">Chance, 0 to 1.</param>
/// <param name="Within60Minutes">Chance, 0 to 1.</param>
public readonly record struct TripChance(TripInterval? Opens, double Within15Minutes, double Within60Minutes)
{
    public static readonly TripChance None = new(null, 0, 0);
}

/// <summary>How warm one breaker is, and which of the breakers of its band it is, by all that has flowed through it.</summary>
/// <remarks>
/// Each point (h, τ) of the set follows the real current:
///   θ ← x + (θ − x)·e^(−Δt/τ),   x = (i/k)²,   r = θ/h².
/// It opens at r = 1 by the model; air, meter and the model itself being a few percent out, at r = 1 + ε, ε logistic with scale s:
///   S(r) = 1 / (1 + e^((r − 1)/s)) is the chance that it holds at r.
/// p is the largest r that it has been seen to hold. By Bayes each point then counts w·S(p), and the chance that it opens at a
/// larger r' is Σ w·(S(p) − S(r')) / Σ w·S(p): an overload survived leaves the stronger breakers. When it opens
/// at r, each point counts w·(S(p) − S(1.02·r)): those whose heat had just come near. p fades slowly, since no day's air is quite
/// the other's.
/// </remarks>
public sealed class BreakerHeat
{
    /// <summary>s, assumed: a class 1 meter and 3 K of air are 1 to 2 % of i, 2 to 4 % of i².</summary>
    const double Scale = 0.02;

    /// <summary>Readings come seconds after the fact: heat when it opened may have been this much more.</summary>
    const double UnseenShare = 1.02;

    /// <summary>Below this r it holds but for one in 20,000.</summary>
    const double Surely = 1 - 10 * Scale;

    /// <summary>What holds more is no sound breaker or no sound reading; more it does not count, so that some point always has weight.</summary>
    const double MostHeld = 1 + 15 * Scale;

    const double Tail = 0.05;

    readonly BreakerPoints points;
    readonly double[] squares;
    readonly double[] heat;
    readonly double[] peak;
    readonly double[] weight;

    public BreakerHeat(BreakerPoints points, double x)
    {
        this.points = points;
        squares = [.. points.Holds.Select(h => h * h)];
        heat = new double[points.Count];
        peak = new double[points.Count];
        weight = new double[points.Count];
        Array.Fill(heat, x);
        Array.Fill(weight, 1.0 / points.Count);
    }

    /// <summary>θ of each point.</summary>
    public ReadOnlySpan<double> Heat => heat;

    /// <summary>Posterior of each point; they sum to 1.</summary>
    public IReadOnlyList<double> Weights
    {
        get
        {
            var sum = Holding();
            return [.. weight.Select((w, at) => w * Holds(peak[at]) / sum)];
        }
    }

    public bool IsWarmerThan(double x) => heat[0] > x || heat[^1] > x;

    /// <param name="x">(i/k)², over the time of <paramref name="decays"/>.</param>
    /// <param name="decays">Of the same points.</param>
    public void Follow(double x, double[] decays)
    {
        var θ = MemoryMarshal.Cast<double, Vector<double>>(heat.AsSpan());
        var e = MemoryMarshal.Cast<double, Vector<double>>(decays.AsSpan());
        var steady = new Vector<double>(x);
        for (var lane = 0; lane < θ.Length; lane++)
            θ[lane] = steady + (θ[lane] - steady) * e[lane];
        for (var at = θ.Length * Vector<double>.Count; at < heat.Length; at++)
            heat[at] = x + (heat[at] - x) * decays[at];
    }

    /// <summary>It is seen to be closed: it holds what it has now.</summary>
    /// <param name="fade">Share by which earlier peaks are forgotten.</param>
    public void Survive(double fade)
    {
        for (var at = 0; at < heat.Length; at++)
            peak[at] = Math.Max(peak[at] * (1 - fade), Math.Min(MostHeld, heat[at] / squares[at]));
    }

    /// <summary>It is seen to have opened.</summary>
    /// <param name="otherwise">Chance that something else than its heat has done that, against which a trip must stand out.</param>
    /// <returns>False where its heat cannot have been the reason: somebody has switched it off.</returns>
    public bool Open(double otherwise)
    {
        Span<double> likelihood = stackalloc double[heat.Length];
        var sum = 0.0;
        for (var at = 0; at < heat.Length; at++)
            sum += likelihood[at] = weight[at] * (Holds(peak[at]) - Holds(Math.Max(peak[at], UnseenShare * heat[at] / squares[at])));
        if (sum < otherwise * Holding())
            return false;
        for (var at = 0; at < heat.Length; at++)
            (weight[at], peak[at]) = (likelihood[at] / sum, 0);
        return true;
    }

    /// <summary>What comes of the next hour's amps.</summary>
    /// <param name="ahead">(i/k)² in equal steps, together an hour.</param>
    /// <param name="decays">Of the same points over one step.</param>
    public TripChance Chance(ReadOnlySpan<double> ahead, double[] decays)
    {
        if (!IsBeyond(ahead))
            return TripChance.None;
        Span<double> minutes = stackalloc double[heat.Length];
        Span<double> opens = stackalloc double[heat.Length];
        var (step, soon, sum) = (60.0 / ahead.Length, 0.0, 0.0);
        for (var at = 0; at < heat.Length; at++)
        {
            var (atQuarter, atHour, crossing) = Ratios(at, ahead, decays[at], step);
            var held = Holds(peak[at]);
            soon += weight[at] * (held - Holds(atQuarter));
            sum += opens[at] = weight[at] * (held - Holds(atHour));
            minutes[at] = crossing;
        }
        var all = Holding();
        return sum < 1e-4 * all ? TripChance.None : new(Interval(minutes, opens, sum), soon / all, sum / all);
    }

    /// <summary>Some point comes to an r that matters and that it has not been seen to hold.</summary>
    bool IsBeyond(ReadOnlySpan<double> ahead)
    {
        var most = 0.0;
        foreach (var x in ahead)
            most = Math.Max(most, x);
        for (var at = 0; at < heat.Length; at++)
            if (Math.Max(most, heat[at]) > squares[at] * Math.Max(Surely, peak[at]))
                return true;
        return false;
    }

    /// <summary>Largest r by a quarter of an hour and by the hour, and when the last of its rise to there begins to count.</summary>
    (double AtQuarter, double AtHour, double Minutes) Ratios(int at, ReadOnlySpan<double> ahead, double decay, double step)
    {
        var (θ, highest, quarter, crossing) = (heat[at], peak[at], peak[at], double.NaN);
        var limit = squares[at] * Math.Max(1, peak[at]);
        for (var k = 0; k < ahead.Length; k++)
        {
            var x = ahead[k];
            var next = x + (θ - x) * decay;
            if (double.IsNaN(crossing) && next > limit)
                crossing = step * k - points.TimeConstantsSeconds[at] / 60 * Math.Log((x - limit) / (x - Math.Min(θ, limit)));
            highest = Math.Max(highest, next / squares[at]);
            θ = next;
            if (step * (k + 1) <= 15 + 1e-9)
                quarter = highest;
        }
        return (quarter, highest, double.IsNaN(crossing) ? 60 : Math.Max(0, crossing));
    }

    double Holding()
    {
        var sum = 0.0;
        for (var at = 0; at < weight.Length; at++)
            sum += weight[at] * Holds(peak[at]);
        return sum;
    }

    static TripInterval Interval(Span<double> minutes, Span<double> opens, double sum)
    {
        minutes.Sort(opens);
        var (earliest, latest, before) = (minutes[0], minutes[^1], 0.0);
        for (var at = 0; at < minutes.Length; at++)
        {
            if (before <= Tail * sum)
                earliest = minutes[at];
            before += opens[at];
            if (before >= (1 - Tail) * sum)
            {
                latest = minutes[at];
                break;
            }
        }
        return new(earliest, latest);
    }

    static double Holds(double r) => r < Surely ? 1 : 1 / (1 + Math.Exp((r - 1) / Scale));

    public BreakerHeatMemory Memory() => new([.. heat], [.. peak], [.. weight]);

    /// <summary>Goes on from there.</summary>
    /// <param name="memory">Of a breaker with as many points.</param>
    public void Resume(BreakerHeatMemory memory)
    {
        memory.Heat.CopyTo(heat, 0);
        memory.Peak.CopyTo(peak, 0);
        memory.Weight.CopyTo(weight, 0);
    }
}

/// <summary>All that <see cref="BreakerHeat"/> remembers, by point.</summary>
/// <param name="Heat">θ.</param>
/// <param name="Peak">p.</param>
/// <param name="Weight">w.</param>
public sealed record BreakerHeatMemory(double[] Heat, double[] Peak, double[] Weight);
