using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>
/// From a frozen image to where the volts go: a load flow with the measured amps, then the most likely state about it from
/// all meters together, then a load flow with that state's source, from which the cables are read.
/// </summary>
sealed class DockEstimator(SiteDefinition site, DockDefinition dock)
{
    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);
    readonly Dictionary<string, CableHeat> heat = dock.Cables.ToDictionary(cable => cable.To, cable => new CableHeat(cable));
    DateTimeOffset? last;
    (long Minute, Feeder Feeder)? warmed;

    public DockEstimate Estimate(DockImage image)
    {
        var racewayCelsius = RacewayAir.Celsius(image, site.Limits, zone);
        var feeder = FeederOf(image.Now, racewayCelsius);
        var likely = MostLikelyOf(image, Sweep.Solve(OutletLoads.Of(feeder, image, site.Limits)).State);
        var source = Each(leg => likely.State.Volts(DockFeeder.OpenCircuit, leg).Volts);
        var result = Sweep.Solve(OutletLoads.Of(feeder.At(source), image, site.Limits));
        var cables = dock.Cables.ToDictionary(cable => cable.To, cable => CableOf(cable, result.State, racewayCelsius));
        FollowHeat(image.Now, cables);
        return EstimateOf(image.Now, result, racewayCelsius, likely, cables);
    }

    MostLikely MostLikelyOf(DockImage image, LoadFlowState about)
    {
        var measured = DockMeasurements.Of(about.Feeder, image, (name, leg) => about.AmpsDrawnAt(name, leg).Magnitude);
        var estimator = new StateEstimator(about.Feeder, EstimatorNoise.Usual(site.Supply));
        var doubtful = DoubtfulReadings.SetAside(estimator, measured, about);
        return new(about, estimator.Estimate, doubtful);
    }

    /// <summary>Conductors warm slowly: their resistance is looked up once a minute.</summary>
    Feeder FeederOf(DateTimeOffset now, double racewayCelsius)
    {
        var minute = now.UtcTicks / TimeSpan.TicksPerMinute;
        if (warmed is { } last && last.Minute == minute)
            return last.Feeder;
        var feeder = DockFeeder.Build(site, dock, DockFeeder.Equal(site.Supply, dock.Source.NoLoadVolts), cable =>
            (heat[cable.To].LegCelsius(racewayCelsius), heat[cable.To].NeutralCelsius(racewayCelsius)));
        warmed = (minute, feeder);
        return feeder;
    }

    void FollowHeat(DateTimeOffset now, Dictionary<string, CableEstimate> cables)
    {
        var elapsed = now > last ? now - last.Value : TimeSpan.Zero; // a clock may have been set back
        foreach (var (outer, its) in heat)
            its.Follow(cables[outer].Amps, elapsed);
        last = now;
    }

    DockEstimate EstimateOf(
        DateTimeOffset now, LoadFlowResult result, double racewayCelsius, MostLikely likely, Dictionary<string, CableEstimate> cables)
    {
        var state = result.State;
        const string source = DockDefinition.SourcePoint;
        var kilovoltAmperes = state.VoltAmperesInto(source).Magnitude / 1000;
        return new(
            now,
            result.Status,
            Each(leg => state.VoltsAt(source, leg).Magnitude),
            Each(leg => state.AmpsInto(source, leg).Magnitude, withNeutral: true),
            kilovoltAmperes,
            dock.Source.Transformer is { } transformer ? kilovoltAmperes * 1000 / transformer.RatingVoltAmperes : null,
            racewayCelsius,
            dock.Pedestals.Keys.ToDictionary(name => name, name => PedestalOf(name, likely.State)),
            cables)
        {
            Doubtful = likely.Doubtful,
            AtNoLoadVolts = likely.About,
        };
    }

    PedestalEstimate PedestalOf(string name, FeederEstimate likely) => new(
        Each(leg => likely.Volts(name, leg).Volts),
        Each(leg => likely.Volts(name, leg).Sd),
        Each(leg => likely.AmpsDrawn(name, leg).Amps));

    CableEstimate CableOf(CableDefinition cable, LoadFlowState state, double racewayCelsius)
    {
        var amps = Each(leg => state.AmpsInto(cable.To, leg).Magnitude, withNeutral: true);
        var legAmpacity = cable.AmpacityAmps ?? cable.Sets * cable.Conductor.AmpacityAmps(cable.Rating, racewayCelsius);
        var neutralAmpacity = cable.Neutral == cable.Conductor
            ? legAmpacity
            : cable.Sets * cable.Neutral.AmpacityAmps(cable.Rating, racewayCelsius);
        return new(
            amps,
            Each(leg => state.DropInto(cable.To, leg).Magnitude, withNeutral: true),
            legAmpacity,
            amps.Legs.Max(leg => amps[leg] / (leg == Leg.N ? neutralAmpacity : legAmpacity)),
            heat[cable.To].LegCelsius(racewayCelsius));
    }

    PerLeg Each(Func<Leg, double> value, bool withNeutral = false)
    {
        var legs = site.Supply.Legs.Aggregate(PerLeg.None, (all, leg) => all.With(leg, value(leg)));
        return withNeutral ? legs.With(Leg.N, value(Leg.N)) : legs;
    }

    /// <param name="About">The load flow it is linear about.</param>
    sealed record MostLikely(LoadFlowState About, FeederEstimate State, IReadOnlyList<DoubtfulReading> Doubtful);
}
