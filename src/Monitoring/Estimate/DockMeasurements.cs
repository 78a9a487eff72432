using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>What a dock's meters say, and how far each may be off.</summary>
/// <remarks>
/// A meter of class 0.5 is off by at most 0.5 % of its reading: spread evenly, an sd of 0.5/√3 = 0.29 %. A reading may be
/// one reporting interval old, and loads come and go since: 0.6 A, and 0.35 V by everybody's. The amps of a pedestal that is
/// silent are held, with an sd of 3 A and a third of themselves: a load has come or gone. Of one never heard, nothing up to
/// its ratings is out of the question: 0.4 of them. All assumed: on the simulated afternoons of the tests they make the
/// 95 % intervals hold the truth 93 to 97 % of the time.
/// </remarks>
static class DockMeasurements
{
    const double ClassShare = 0.005 / 1.732;
    const double VoltsNoise = 0.35;
    const double AmpsNoise = 0.6;
    const double HeldAmps = 3;
    const double HeldShare = 0.33;
    const double UnknownShare = 0.4;

    /// <param name="drawn">Amps that the load flow drew from each leg of each pedestal.</param>
    public static Measurements Of(Feeder feeder, DockImage image, Func<string, Leg, double> drawn)
    {
        var measured = new Measurements(feeder);
        foreach (var (name, pedestal) in image.Pedestals)
            foreach (var leg in feeder.Supply.Legs)
            {
                measured.SetAmps(name, leg, drawn(name, leg), AmpsSd(pedestal, leg, drawn(name, leg)));
                if (VoltsOf(feeder, pedestal, leg) is { } volts)
                    measured.SetVolts(name, leg, volts, Sd(volts * ClassShare, VoltsNoise));
            }
        return measured;
    }

    /// <summary>Fresh volts; a leg that is dead is no measurement of a feeder that is taken to be whole.</summary>
    static double? VoltsOf(Feeder feeder, PedestalImage pedestal, Leg leg) =>
        pedestal.IsFresh && pedestal.Latest!.Volts[leg] > feeder.Supply.NominalVolts / 2 ? pedestal.Latest.Volts[leg] : null;

    static double AmpsSd(PedestalImage pedestal, Leg leg, double amps)
    {
        var outlets = pedestal.Outlets.Values.Where(outlet => outlet.Definition.Legs.Contains(leg)).ToList();
        if (outlets.All(outlet => outlet.Latest?.Closed == false))
            return 0; // open: exactly nothing
        if (outlets.Any(outlet => outlet.Latest?.Amps.Has(leg) != true))
            return UnknownShare * outlets.Sum(outlet => outlet.Definition.RatingAmps);
        if (outlets.Any(outlet => outlet.Latest!.Amps[leg] > 1.5 * outlet.Definition.RatingAmps))
            return amps / 2; // most likely a motor's start, over before the next reading
        return pedestal.IsFresh ? Sd(amps * ClassShare, AmpsNoise) : Sd(amps * HeldShare, HeldAmps);
    }

    static double Sd(double one, double other) => Math.Sqrt(one * one + other * other);
}
