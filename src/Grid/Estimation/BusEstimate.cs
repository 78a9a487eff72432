using System.Numerics;
using System.Runtime.Intrinsics;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>What an estimate says of one bus and of the branch that feeds it, all legs at once. A view: good until the estimator's next run.</summary>
public readonly struct BusEstimate
{
    readonly FeederEstimate estimate;
    readonly Feeder feeder;
    readonly int bus;

    internal BusEstimate(FeederEstimate estimate, Feeder feeder, int bus) => (this.estimate, this.feeder, this.bus) = (estimate, feeder, bus);

    /// <summary>Leg to neutral.</summary>
    public PerLeg Volts => Legs(estimate.Volts(bus, 0).Volts, estimate.Volts(bus, 1).Volts, estimate.Volts(bus, 2).Volts);

    /// <summary>One standard deviation of <see cref="Volts"/>.</summary>
    public PerLeg VoltsSd => Legs(estimate.Volts(bus, 0).Sd, estimate.Volts(bus, 1).Sd, estimate.Volts(bus, 2).Sd);

    /// <summary>Amps that the loads of the bus draw.</summary>
    public PerLeg AmpsDrawn => Legs(estimate.AmpsDrawn(bus, 0).Amps, estimate.AmpsDrawn(bus, 1).Amps, estimate.AmpsDrawn(bus, 2).Amps);

    /// <summary>One standard deviation of <see cref="AmpsDrawn"/>.</summary>
    public PerLeg AmpsDrawnSd => Legs(estimate.AmpsDrawn(bus, 0).Sd, estimate.AmpsDrawn(bus, 1).Sd, estimate.AmpsDrawn(bus, 2).Sd);

    /// <summary>One standard deviation of the amps in the branch.</summary>
    public PerLeg AmpsIntoSd => Legs(estimate.AmpsInto(bus, 0).Sd, estimate.AmpsInto(bus, 1).Sd, estimate.AmpsInto(bus, 2).Sd);

    /// <summary>
    /// Amps outwards in each conductor of the branch and the volts that they lose along it, both with the neutral: the estimated amps at
    /// the load flow's angles, and I_N = −ΣI.
    /// </summary>
    public (PerLeg Amps, PerLeg DropVolts) Branch
    {
        get
        {
            var (one, two, three) = OfLegs;
            var impedance = feeder.Branches[bus - 1].Impedance;
            return (
                Conductors(one, two, three, one + two + three),
                Conductors(
                    impedance.Drop(Leg.L1, one, two, three), impedance.Drop(Leg.L2, one, two, three),
                    feeder.Supply.IsThreePhase ? impedance.Drop(Leg.L3, one, two, three) : 0, impedance.Drop(Leg.N, one, two, three)));
        }
    }

    /// <summary>Magnitudes, with the neutral's.</summary>
    PerLeg Conductors(Complex one, Complex two, Complex three, Complex neutral)
    {
        var all = new Phasors(
            Vector256.Create(one.Real, two.Real, three.Real, neutral.Real),
            Vector256.Create(one.Imaginary, two.Imaginary, three.Imaginary, neutral.Imaginary)).Magnitudes;
        return Legs(all[0], all[1], all[2]) with { N = all[3] };
    }

    /// <summary>That flow through the bus, all legs.</summary>
    public Complex VoltAmperes
    {
        get
        {
            var (one, two, three) = OfLegs;
            return VoltAmperesOf(0, one) + VoltAmperesOf(1, two) + VoltAmperesOf(2, three);
        }
    }

    (Complex One, Complex Two, Complex Three) OfLegs => (Phasor(0), Phasor(1), Phasor(2));

    Complex Phasor(int leg)
    {
        var flow = leg < feeder.Supply.Legs.Count ? estimate.About.Amps[bus][leg] : 0;
        return flow == 0 ? 0 : flow / flow.Magnitude * Math.Max(0, estimate.AmpsInto(bus, leg).Amps);
    }

    Complex VoltAmperesOf(int leg, Complex amps)
    {
        if (leg >= feeder.Supply.Legs.Count)
            return 0;
        var volts = estimate.About.Volts[bus][leg];
        return volts / volts.Magnitude * estimate.Volts(bus, leg).Volts * Complex.Conjugate(amps);
    }

    /// <summary>Of what a bus has in three lanes, the legs of the supply.</summary>
    PerLeg Legs(double one, double two, double three)
    {
        var legs = feeder.Supply.Legs.Count;
        return new(one, legs > 1 ? two : double.NaN, legs > 2 ? three : double.NaN);
    }
}
