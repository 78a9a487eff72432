using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>Estimated volts and amps of a feeder with their standard deviations, by the names of buses and legs.</summary>
public sealed class FeederEstimate
{
    readonly Feeder feeder;
    readonly Triple[] volts;
    readonly Triple[] voltsVariance;
    readonly Triple[] amps;
    readonly Triple[] ampsVariance;
    readonly Triple[] drawn;
    readonly Triple[] drawnVariance;
    LoadFlowState about = null!; // given before the first result is read

    internal FeederEstimate(Feeder feeder)
    {
        this.feeder = feeder;
        var buses = feeder.Buses.Count;
        (volts, voltsVariance) = (new Triple[buses], new Triple[buses]);
        (amps, ampsVariance) = (new Triple[buses], new Triple[buses]);
        (drawn, drawnVariance) = (new Triple[buses], new Triple[buses]);
    }

    /// <summary>Volts leg to neutral.</summary>
    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public (double Volts, double Sd) Volts(string bus, Leg leg) => Volts(feeder[bus], (int)leg);

    /// <summary>The load flow about which the estimate was made.</summary>
    public LoadFlowState About => about;

    /// <summary>All that is estimated of one bus and of the branch that feeds it.</summary>
    /// <exception cref="KeyNotFoundException">No bus of that name.</exception>
    public BusEstimate this[string bus] => new(this, feeder, feeder[bus]);

    /// <summary>Amps in a leg of the branch that feeds a bus.</summary>
    public (double Amps, double Sd) AmpsInto(string bus, Leg leg) => AmpsInto(feeder[bus], (int)leg);

    /// <summary>Amps that the loads of a bus draw from a leg.</summary>
    public (double Amps, double Sd) AmpsDrawn(string bus, Leg leg) => AmpsDrawn(feeder[bus], (int)leg);

    /// <summary>
    /// Sum of the squares of everything that had to give way, each over its standard deviation: volts, amps, cables, source.
    /// Where the model holds it is χ² with <see cref="Degrees"/> degrees of freedom.
    /// </summary>
    public double SquaredResiduals { get; private set; }

    /// <summary>Measured volts, all else being unknowns with a prior of their own.</summary>
    public int Degrees { get; private set; }

    /// <summary>
    /// What the volts of a bus are by all readings but its own: N(v̂, Var v̂) with the reading's N(y, σ²) taken out of it,
    ///   1/s² = 1/Var v̂ − 1/σ²,   v = s²·(v̂/Var v̂ − y/σ²).
    /// </summary>
    /// <returns>An sd of infinity where nothing else speaks of it.</returns>
    public (double Volts, double Sd) VoltsWithout(string bus, Leg leg, double measuredVolts, double sd)
    {
        var (estimated, itsSd) = Volts(bus, leg);
        var (all, own) = (1 / (itsSd * itsSd), 1 / (sd * sd));
        return all - own > 1e-6 * own
            ? ((all * estimated - own * measuredVolts) / (all - own), 1 / Math.Sqrt(all - own))
            : (double.NaN, double.PositiveInfinity);
    }

    /// <summary>
    /// How many standard deviations a measured voltage is off, r / √(σ² − Var v̂): about normal where the model holds.
    /// 0 where nothing else speaks of it.
    /// </summary>
    public double NormalisedResidual(string bus, Leg leg, double measuredVolts, double sd) =>
        NormalisedResidual(feeder[bus], (int)leg, measuredVolts, sd);

    internal double NormalisedResidual(int bus, int leg, double measuredVolts, double sd)
    {
        var (estimated, itsSd) = Volts(bus, leg);
        var variance = sd * sd - itsSd * itsSd;
        return variance > 1e-6 * sd * sd ? (measuredVolts - estimated) / Math.Sqrt(variance) : 0;
    }

    internal void Begin(LoadFlowState about)
    {
        this.about = about;
        (SquaredResiduals, Degrees) = (0, 0);
    }

    internal void Put(int bus, Triple voltsMagnitude, Triple ampsMagnitude, Measurements measured, in Posterior posterior)
    {
        volts[bus] = voltsMagnitude + posterior.X;
        voltsVariance[bus] = posterior.Xx.OnDiagonal;
        drawn[bus] = measured.AmpsAt(bus) + posterior.K;
        drawnVariance[bus] = posterior.Kk.OnDiagonal;
        if (bus > 0)
            amps[bus] += ampsMagnitude;
        for (var leg = 0; leg < feeder.Supply.Legs.Count; leg++)
            AddResiduals(measured, bus, leg, posterior);
    }

    /// <summary>What the volts and the amps of a bus and leg had to give way.</summary>
    void AddResiduals(Measurements measured, int bus, int leg, in Posterior posterior)
    {
        var (itsVolts, itsAmps) = (measured.Volts[bus * Measurements.MaxLegs + leg], measured.Amps[bus * Measurements.MaxLegs + leg]);
        SquaredResiduals += Squared(posterior.K[leg] / itsAmps.Sd);
        if (!itsVolts.IsThere || bus == 0)
            return;
        SquaredResiduals += Squared((itsVolts.Value - volts[bus][leg]) / itsVolts.Sd);
        Degrees++;
    }

    /// <summary>What a prior had to give way, an information 1/sd² at a time.</summary>
    internal void AddResidual(Triple deviation, Triple information)
    {
        for (var leg = 0; leg < feeder.Supply.Legs.Count; leg++)
            SquaredResiduals += Squared(deviation[leg]) * information[leg];
    }

    internal void PutAmps(int bus, Triple deviation, in Block covariance) =>
        (amps[bus], ampsVariance[bus]) = (deviation, covariance.OnDiagonal);

    static double Squared(double value) => value * value;

    internal (double Volts, double Sd) Volts(int bus, int leg) => At(volts, voltsVariance, bus, leg);

    internal (double Amps, double Sd) AmpsInto(int bus, int leg) => At(amps, ampsVariance, bus, leg);

    internal (double Amps, double Sd) AmpsDrawn(int bus, int leg) => At(drawn, drawnVariance, bus, leg);

    static (double, double) At(Triple[] values, Triple[] variances, int bus, int leg) => (values[bus][leg], Math.Sqrt(variances[bus][leg]));
}
