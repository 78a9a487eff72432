using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>How the residuals of all meters go together where no neutral is bad.</summary>
/// <remarks>
/// With A of <see cref="SharedDrops"/>, a load that is not known shows at every meter that shares its way. On two legs of equal conductors it
/// moves the neutral point by 3 parts and lowers both legs by 1: a load shows in the sum of the legs, a neutral does not. A branch that is not
/// as written is off by a share φ of its drop D, its neutral alone by φ_N of E = Z_N·ΣI, all cables together (temperature, ordinary joints that
/// nobody wrote down) by φ_F of the drop ΣD to the meter, along the legs:
///   R = s² (own meter) + σ_S² (the supply, all legs) + Σ_qm (λ² + ρ·σ_p·σ_p′)_qm·A_km·A_k′m + Σ_shared (φ²·D_k·D_k′ + φ_N²·E_k·E_k′)
///     + φ_F²·ΣD_k·ΣD_k′,
///   ρ = exp(−|t_p − t_p′|/τ):
/// λ is what lasts, σ what passes: a motor starts within a second or two, so what one meter saw of it the next may have missed.
/// </remarks>
sealed class ResidualCovariance
{
    /// <summary>Share by which the drop of a branch may be off: cable lengths, ordinary joints, temperature. Assumed.</summary>
    const double BranchDoubt = 0.15;

    /// <summary>Share by which a neutral may differ from its legs. Assumed.</summary>
    const double NeutralDoubt = 0.05;

    /// <summary>Share by which all cables together may have more ohms than written. Assumed.</summary>
    const double FeederDoubt = 0.15;

    /// <summary>One standard deviation of the supply, share of nominal: it may stand anywhere. Assumed.</summary>
    const double SupplyDoubt = 0.1;

    /// <summary>τ: how long a load that nobody told of lasts. Assumed.</summary>
    const double LoadSeconds = 1.5;

    readonly Feeder feeder;
    readonly SharedDrops drops;
    readonly int legs;
    readonly double[][] ofBranches;
    readonly double[][] ofFeeder;

    public ResidualCovariance(LoadFlowState state, SharedDrops drops)
    {
        (feeder, this.drops, legs) = (state.Feeder, drops, state.Feeder.Supply.Legs.Count);
        (ofBranches, ofFeeder) = (new double[feeder.Buses.Count][], new double[feeder.Buses.Count][]);
        (ofBranches[0], ofFeeder[0]) = (new double[legs * legs], new double[legs]);
        for (var bus = 1; bus < ofBranches.Length; bus++)
        {
            var (own, ofNeutral) = OfBranch(state, bus);
            ofBranches[bus] = [.. ofBranches[feeder.Parent[bus]].Select((inner, at) =>
                inner + own[at / legs] * own[at % legs] + ofNeutral[at / legs] * ofNeutral[at % legs])];
            ofFeeder[bus] = [.. ofFeeder[feeder.Parent[bus]].Select((inner, leg) => inner + own[leg] * FeederDoubt / BranchDoubt)];
        }
    }

    /// <summary>R at [reading · legs + leg], V².</summary>
    public double[,] Of(IReadOnlyList<BusResiduals> readings)
    {
        int[] at = [.. readings.Select(reading => feeder[reading.Bus])];
        double[][] passing = [.. readings.SelectMany((reading, p) => feeder.Supply.Legs.Select(leg => ByLoad(reading.AmpsSd.Passing, at[p], (int)leg)))];
        double[][] lasting = [.. readings.SelectMany((reading, p) => feeder.Supply.Legs.Select(leg => ByLoad(reading.AmpsSd.Lasting, at[p], (int)leg)))];
        var supply = Square(SupplyDoubt * feeder.Supply.NominalVolts);
        var covariance = new double[passing.Length, passing.Length];
        for (var row = 0; row < passing.Length; row++)
            for (var column = 0; column <= row; column++)
            {
                var both = supply + Dot(lasting[row], lasting[column])
                    + Alike(readings[row / legs], readings[column / legs]) * Dot(passing[row], passing[column])
                    + ofBranches[drops.Fork(at[row / legs], at[column / legs])][row % legs * legs + column % legs]
                    + ofFeeder[at[row / legs]][row % legs] * ofFeeder[at[column / legs]][column % legs]
                    + (row == column ? Square(readings[row / legs].SdVolts) : 0);
                (covariance[row, column], covariance[column, row]) = (both, both);
            }
        return covariance;
    }

    /// <summary>φ·D_k and φ_N·E_k of one branch.</summary>
    (double[] Own, double[] OfNeutral) OfBranch(LoadFlowState state, int bus)
    {
        var (own, ofNeutral) = (new double[legs], new double[legs]);
        var (amps, neutral) = (state.Amps[bus], feeder.Branches[bus - 1].Impedance[Leg.N, Leg.N]);
        for (var k = 0; k < legs; k++)
        {
            var along = Complex.Conjugate(feeder.Supply.Direction((Leg)k));
            for (var m = 0; m < legs; m++)
                own[k] += BranchDoubt * (along * feeder.Loop[bus][k, m] * amps[m]).Real;
            ofNeutral[k] = NeutralDoubt * (along * neutral * (amps[0] + amps[1] + amps[2])).Real;
        }
        return (own, ofNeutral);
    }

    /// <summary>Volts that one standard deviation of each load's amps takes from one leg of one reading.</summary>
    double[] ByLoad(double[] ampsSd, int bus, int leg)
    {
        var volts = new double[ampsSd.Length];
        for (var load = 0; load < volts.Length; load++)
            if (ampsSd[load] > 0)
                volts[load] = ampsSd[load] * drops.PerAmp(bus, leg, load);
        return volts;
    }

    static double Alike(BusResiduals one, BusResiduals other) => Math.Exp(-(one.Time - other.Time).Duration().TotalSeconds / LoadSeconds);

    static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var at = 0; at < Math.Min(a.Length, b.Length); at++)
            sum += a[at] * b[at];
        return sum;
    }

    static double Square(double value) => value * value;
}
