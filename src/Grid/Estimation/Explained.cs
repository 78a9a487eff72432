using System.Numerics;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>How well one shift beyond a branch explains all residuals; the equations are those of <see cref="NeutralShift"/>.</summary>
sealed class Explained
{
    readonly Feeder feeder;
    readonly CholeskyFactor factor;
    readonly Complex[] direction;
    readonly int[] buses;
    readonly double[] weighted;

    public Explained(Feeder feeder, IReadOnlyList<BusResiduals> readings, CholeskyFactor factor)
    {
        (this.feeder, this.factor) = (feeder, factor);
        direction = [.. feeder.Supply.Legs.Select(feeder.Supply.Direction)];
        buses = [.. readings.Select(reading => feeder[reading.Bus])];
        weighted = factor.Solve([.. readings.SelectMany(reading => feeder.Supply.Legs.Select(leg => reading.Volts[leg]))]);
    }

    public bool IsBeyond(string bus, string outerEnd) => IsBeyond(feeder[bus], feeder[outerEnd]);

    /// <summary>δ, its standard deviation, its gain, and the meters that it rests on.</summary>
    public (Complex Volts, double Sd, double Gain, int Beyond) By(string outerEnd)
    {
        var outer = feeder[outerEnd];
        var beyond = buses.Count(bus => IsBeyond(bus, outer));
        if (beyond == 0)
            return default;
        var re = Column(outer, u => -u.Real);
        var (pullRe, solvedRe) = (Dot(re, weighted), factor.Solve(re));
        var mRe = Dot(re, solvedRe);
        if (!feeder.Supply.IsThreePhase)
            return (pullRe / mRe, 1 / Math.Sqrt(mRe), pullRe * pullRe / mRe, beyond);
        var im = Column(outer, u => -u.Imaginary);
        var (pullIm, mIm, mBoth) = (Dot(im, weighted), Dot(im, factor.Solve(im)), Dot(im, solvedRe));
        var determinant = mRe * mIm - mBoth * mBoth;
        var volts = new Complex(mIm * pullRe - mBoth * pullIm, mRe * pullIm - mBoth * pullRe) / determinant;
        return (volts, Math.Sqrt((mRe + mIm) / 2 / determinant), pullRe * volts.Real + pullIm * volts.Imaginary, beyond);
    }

    double[] Column(int outer, Func<Complex, double> part)
    {
        var column = new double[weighted.Length];
        for (var at = 0; at < column.Length; at++)
            if (IsBeyond(buses[at / direction.Length], outer))
                column[at] = part(direction[at % direction.Length]);
        return column;
    }

    bool IsBeyond(int bus, int outer)
    {
        while (bus > outer)
            bus = feeder.Parent[bus];
        return bus == outer;
    }

    static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var at = 0; at < a.Length; at++)
            sum += a[at] * b[at];
        return sum;
    }
}
