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
    public (double Volts, double Sd) Volts(string bus, Leg leg) => At(volts, voltsVariance, bus, leg);

    /// <summary>Amps in a leg of the branch that feeds a bus.</summary>
    public (double Amps, double Sd) AmpsInto(string bus, Leg leg) => At(amps, ampsVariance, bus, leg);

    /// <summary>Amps that the loads of a bus draw from a leg.</summary>
    public (double Amps, double Sd) AmpsDrawn(string bus, Leg leg) => At(drawn, drawnVariance, bus, leg);

    /// <summary>
    /// How many standard deviations a measured voltage is off, r / √(σ² − Var v̂): about normal where the model holds.
    /// 0 where nothing else speaks of it.
    /// </summary>
    public double NormalisedResidual(string bus, Leg leg, double measuredVolts, double sd)
    {
        var (estimated, itsSd) = Volts(bus, leg);
        var variance = sd * sd - itsSd * itsSd;
        return variance > 1e-6 * sd * sd ? (measuredVolts - estimated) / Math.Sqrt(variance) : 0;
    }

    internal void Put(int bus, LoadFlowState about, Measurements measured, in Posterior posterior)
    {
        volts[bus] = Magnitudes(about.Volts[bus]) + posterior.X;
        voltsVariance[bus] = posterior.Xx.OnDiagonal;
        drawn[bus] = measured.AmpsAt(bus) + posterior.K;
        drawnVariance[bus] = posterior.Kk.OnDiagonal;
        if (bus > 0)
            amps[bus] += Magnitudes(about.Amps[bus]);
    }

    internal void PutAmps(int bus, Triple deviation, in Block covariance) =>
        (amps[bus], ampsVariance[bus]) = (deviation, covariance.OnDiagonal);

    static Triple Magnitudes(Phasors phasors) =>
        new(phasors[0].Magnitude, phasors[1].Magnitude, phasors[2].Magnitude);

    (double, double) At(Triple[] values, Triple[] variances, string bus, Leg leg) =>
        (values[feeder[bus]][(int)leg], Math.Sqrt(variances[feeder[bus]][(int)leg]));
}
