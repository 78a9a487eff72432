using System.Numerics;
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

    public PerLeg Volts(string bus) => Each(leg => state.Volts(bus, leg).Volts);

    public PedestalEstimate Pedestal(string name) => new(
        Volts(name),
        Each(leg => Fit.Widening * state.Volts(name, leg).Sd),
        Each(leg => Math.Max(0, state.AmpsDrawn(name, leg).Amps)))
    {
        AmpsSd = Each(leg => Fit.Widening * state.AmpsDrawn(name, leg).Sd),
    };

    /// <summary>In each conductor of the cable that feeds a point, the neutral too.</summary>
    public PerLeg Amps(string bus) => Each(leg => state.PhasorInto(bus, leg).Magnitude, withNeutral: true);

    /// <summary>Of <see cref="Amps"/>; of the neutral as if the legs erred independently.</summary>
    public PerLeg AmpsSd(string bus)
    {
        var legs = Each(leg => Fit.Widening * state.AmpsInto(bus, leg).Sd);
        return legs.With(Leg.N, Math.Sqrt(site.Supply.Legs.Sum(leg => legs[leg] * legs[leg])));
    }

    public PerLeg Drop(string bus) => Each(leg => state.DropInto(bus, leg).Magnitude, withNeutral: true);

    /// <summary>That flow through a point, all legs.</summary>
    public double VoltAmperes(string bus) => site.Supply.Legs.Aggregate(Complex.Zero, (sum, leg) =>
        sum + Along(state.About.VoltsAt(bus, leg)) * state.Volts(bus, leg).Volts * Complex.Conjugate(state.PhasorInto(bus, leg))).Magnitude;

    public IReadOnlyList<UnobservedPedestal> Unobserved() =>
    [
        .. from name in dock.Pedestals.Keys
           let volts = site.Supply.Legs.Any(leg => Fit.Widening * state.Volts(name, leg).Sd > ObservedVoltsShare * site.Supply.NominalVolts)
           let amps = site.Supply.Legs.Any(leg => AreAmpsGuessed(name, leg))
           where volts || amps
           select new UnobservedPedestal(name, volts, amps),
    ];

    bool AreAmpsGuessed(string name, Leg leg) => !DockMeasurements.AreAmpsMeasured(image.Pedestals[name], leg)
        && Fit.Widening * state.AmpsDrawn(name, leg).Sd > ObservedAmpsShare * dock.Pedestals[name].RatedAmps(leg);

    public IReadOnlyList<MeterCheck> Meters() =>
    [
        .. from pedestal in image.Pedestals.Values
           let name = pedestal.Definition.Name
           from leg in site.Supply.Legs
           let volts = DockMeasurements.VoltsOf(site.Supply, pedestal, leg, learned)
           where volts != null
           let others = Others(name, leg, volts.Value)
           select new MeterCheck(name, leg, pedestal.Latest!.Volts[leg], others.Volts, Fit.Widening * others.Sd),
    ];

    /// <summary>A reading that was set aside is in the estimate no more.</summary>
    (double Volts, double Sd) Others(string name, Leg leg, double volts) =>
        doubtful.Any(reading => reading.Bus == name && reading.Leg == leg)
            ? state.Volts(name, leg)
            : state.VoltsWithout(name, leg, volts, DockMeasurements.VoltsSd(volts));

    static Complex Along(Complex phasor) => phasor / phasor.Magnitude;

    PerLeg Each(Func<Leg, double> value, bool withNeutral = false)
    {
        var legs = site.Supply.Legs.Aggregate(PerLeg.None, (all, leg) => all.With(leg, value(leg)));
        return withNeutral ? legs.With(Leg.N, value(Leg.N)) : legs;
    }
}
