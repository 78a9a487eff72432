using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>What a dock's meters say, and how far each may be off.</summary>
/// <remarks>
/// A meter of class 0.5 is off by at most 0.5 % of its reading: spread evenly, an sd of 0.5/√3 = 0.29 %. One that has been
/// learned to be further off is corrected, and is then no surer than the others. A reading may be
/// one reporting interval old, and loads come and go since: 0.2 A, and 0.25 V by everybody's. The amps of a pedestal that is
/// silent are held, with an sd of 3 A and a third of themselves: a load has come or gone. Of one never heard, it is what the
/// others draw per rated amp, ± 0.25 of its ratings. All assumed: docs/algorithms/estimate.md says how often the 95 % intervals then
/// hold the truth.
/// </remarks>
static class DockMeasurements
{
    const double GainShareSd = LearnedGain.ClassShare / 1.732;
    const double VoltsNoise = 0.25;
    const double AmpsNoise = 0.2;
    const double HeldAmps = 3;
    const double HeldShare = 0.33;
    const double UnknownShare = 0.25;

    /// <param name="flow">With the known amps.</param>
    public static Measurements Of(LoadFlowState flow, DockImage image, DockLearned learned)
    {
        var measured = new Measurements(flow.Feeder);
        foreach (var (name, pedestal) in image.Pedestals)
        {
            var bus = flow.Feeder.PositionOf(name);
            var drawn = flow.AmpsDrawnAt(bus);
            foreach (var leg in flow.Feeder.Supply.Legs)
            {
                measured.SetAmps(bus, leg, drawn[leg], AmpsSd(pedestal, leg, drawn[leg]));
                if (VoltsOf(flow.Feeder.Supply, pedestal, leg, learned) is { } volts)
                    measured.SetVolts(bus, leg, volts, VoltsSd(volts));
            }
        }
        return measured;
    }

    /// <summary>
    /// Fresh volts, corrected where the meter is known to be out of its class; a leg that is dead is no measurement of a feeder that
    /// is taken to be whole.
    /// </summary>
    public static double? VoltsOf(SupplySystem supply, PedestalImage pedestal, Leg leg, DockLearned learned)
    {
        if (!pedestal.IsFresh || !(pedestal.Latest!.Volts[leg] > supply.NominalVolts / 2))
            return null;
        var volts = pedestal.Latest.Volts[leg];
        return learned.BeyondClass.TryGetValue(new(pedestal.Definition.Name, leg), out var gain) ? gain.Corrected(volts) : volts;
    }

    public static double VoltsSd(double volts) => Sd(volts * GainShareSd, VoltsNoise);

    /// <summary>Its amps on a leg are known now: read, or nothing because every outlet is open.</summary>
    public static bool AreAmpsMeasured(PedestalImage pedestal, Leg leg)
    {
        if (!pedestal.IsFresh)
            return false;
        foreach (var outlet in pedestal.Outlets.Values)
            if (MayBeClosed(pedestal, outlet, leg) && outlet.Latest?.Amps.Has(leg) != true)
                return false;
        return true;
    }

    static double AmpsSd(PedestalImage pedestal, Leg leg, double amps)
    {
        var (closed, unknown, isStart, ratedAmps) = (0, 0, false, 0.0);
        foreach (var outlet in pedestal.Outlets.Values)
            if (MayBeClosed(pedestal, outlet, leg))
            {
                closed++;
                ratedAmps += outlet.Definition.RatingAmps;
                if (outlet.Latest?.Amps.Has(leg) != true)
                    unknown++;
                else
                    isStart |= IsStart(outlet, leg);
            }
        if (closed == 0)
            return 0; // exactly nothing
        if (unknown > 0)
            return UnknownShare * ratedAmps;
        if (isStart)
            return amps / 2;
        return pedestal.IsFresh ? Sd(amps * GainShareSd, AmpsNoise) : Sd(amps * HeldShare, HeldAmps);
    }

    /// <summary>An outlet on a leg that is not known to be open now: one that was open when last heard may be closed again.</summary>
    static bool MayBeClosed(PedestalImage pedestal, OutletImage outlet, Leg leg) =>
        outlet.Definition.IsOn(leg) && !(pedestal.IsFresh && outlet.Latest?.Closed == false);

    /// <summary>Far above its rating and not in the reading before: most likely a motor's start, over before the next.</summary>
    static bool IsStart(OutletImage outlet, Leg leg)
    {
        var farAbove = 1.5 * outlet.Definition.RatingAmps;
        return outlet.Latest!.Amps[leg] > farAbove && !(outlet.Recent is [.., var before, _] && before.Outlet.Amps[leg] > farAbove);
    }

    static double Sd(double one, double other) => Math.Sqrt(one * one + other * other);
}
