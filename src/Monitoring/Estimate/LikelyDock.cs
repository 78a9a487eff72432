using System.Runtime.InteropServices;
using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>The most likely state of a dock, read by the site file's names.</summary>
sealed class LikelyDock(
    SiteDefinition site, DockDefinition dock, DockImage image, DockLearned learned,
    FeederEstimate state, IReadOnlyList<DoubtfulReading> doubtful)
{
    /// <summary>Beyond this standard deviation, as a share of nominal, volts are not determined: 95 % are within ±2 % (assumed).</summary>
    const double ObservedVoltsShare = 0.01;

    /// <summary>Beyond this, as a share of what the outlets of the leg are rated for, amps are not: 95 % are within ±20 % of it (assumed).</summary>
    const double ObservedAmpsShare = 0.1;

    public IReadOnlyList<DoubtfulReading> Doubtful => doubtful;

    public DockFit Fit { get; } = new(state.SquaredResiduals, state.Degrees);

    public PerLeg Volts(string bus) => state[bus].Volts;

    public PedestalEstimate Pedestal(string name)
    {
        var bus = state[name];
        var drawn = bus.AmpsDrawn;
        return new(bus.Volts, Widened(bus.VoltsSd), new(Math.Max(0, drawn.L1), Math.Max(0, drawn.L2), Math.Max(0, drawn.L3)))
        {
            AmpsSd = Widened(bus.AmpsDrawnSd),
        };
    }

    /// <summary>In each conductor of the cable that feeds a point and lost along it, the neutral too.</summary>
    public (PerLeg Amps, PerLeg DropVolts, PerLeg AmpsSd) Cable(string bus)
    {
        var its = state[bus];
        var (amps, drops) = its.Branch;
        return (amps, drops, AmpsSd(its));
    }

    /// <summary>Of the neutral as if the legs erred independently.</summary>
    PerLeg AmpsSd(BusEstimate bus)
    {
        var legs = Widened(bus.AmpsIntoSd);
        var squares = 0.0;
        foreach (var leg in site.Supply.Legs)
            squares += legs[leg] * legs[leg];
        return legs.With(Leg.N, Math.Sqrt(squares));
    }

    /// <summary>That flow through a point, all legs.</summary>
    public double VoltAmperes(string bus) => state[bus].VoltAmperes.Magnitude;

    /// <param name="pedestals">As estimated.</param>
    public IReadOnlyList<UnobservedPedestal> Unobserved(ByName<PedestalEstimate> pedestals)
    {
        var unobserved = new List<UnobservedPedestal>();
        foreach (var (name, pedestal) in pedestals)
        {
            var (volts, amps) = (false, false);
            foreach (var leg in site.Supply.Legs)
            {
                volts |= pedestal.VoltsSd[leg] > ObservedVoltsShare * site.Supply.NominalVolts;
                amps |= AreAmpsGuessed(name, leg, pedestal.AmpsSd[leg]);
            }
            if (volts || amps)
                unobserved.Add(new(name, volts, amps));
        }
        return unobserved;
    }

    bool AreAmpsGuessed(string name, Leg leg, double sd) => !DockMeasurements.AreAmpsMeasured(image.Pedestals[name], leg)
        && sd > ObservedAmpsShare * dock.Pedestals[name].RatedAmps(leg);

    /// <param name="since">Of those that have spoken since then; null, or a clock that was set back: of all.</param>
    public IReadOnlyList<MeterCheck> Meters(DateTimeOffset? since)
    {
        var meters = new List<MeterCheck>();
        var heard = new int[(int)Leg.N];
        foreach (var (name, pedestal) in image.Pedestals)
            foreach (var leg in site.Supply.Legs)
                if (DockMeasurements.VoltsOf(site.Supply, pedestal, leg, learned) is { } volts)
                {
                    heard[(int)leg]++;
                    if (!(image.Now - since < pedestal.SilentFor) || image.Now < since)
                        meters.Add(Beside(name, leg, pedestal.Latest!.Volts[leg], volts));
                }
        foreach (ref var meter in CollectionsMarshal.AsSpan(meters))
            meter = meter with { Others = heard[(int)meter.Leg] - 1 };
        return meters;
    }

    MeterCheck Beside(string name, Leg leg, double read, double volts)
    {
        var others = Others(name, leg, volts);
        return new(name, leg, read, others.Volts, Fit.Widening * others.Sd, 0);
    }

    /// <summary>A reading that was set aside is in the estimate no more.</summary>
    (double Volts, double Sd) Others(string name, Leg leg, double volts) =>
        doubtful.Count > 0 && doubtful.Any(reading => reading.Bus == name && reading.Leg == leg)
            ? state.Volts(name, leg)
            : state.VoltsWithout(name, leg, volts, DockMeasurements.VoltsSd(volts));

    PerLeg Widened(PerLeg sds)
    {
        var widening = Fit.Widening;
        return new(widening * sds.L1, widening * sds.L2, widening * sds.L3);
    }
}
