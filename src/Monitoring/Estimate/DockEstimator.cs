using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>
/// From a frozen image to where the volts go: a load flow with the known amps from the source as last estimated, at first as the
/// site file states it; about that, the most likely state from all meters together.
/// </summary>
sealed class DockEstimator(SiteDefinition site, DockDefinition dock)
{
    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);
    readonly Dictionary<string, CableHeat> heat = dock.Cables.ToDictionary(cable => cable.To, cable => new CableHeat(cable));
    readonly PerLeg noLoadVolts = DockFeeder.Equal(site.Supply, dock.Source.NoLoadVolts);
    PerLeg sourceVolts = DockFeeder.Equal(site.Supply, dock.Source.NoLoadVolts);
    DateTimeOffset? last;
    (long Minute, Feeder Feeder, StateEstimator Estimator)? warmed;

    /// <param name="learned">As of the tick before.</param>
    public DockEstimate Estimate(DockImage image, DockLearned learned)
    {
        var racewayCelsius = AirInTheSun.Celsius(image, site.Limits, zone, site.Limits.SunRiseKelvin, sunsetHour: 18);
        var (feeder, estimator) = FeederOf(image.Now, racewayCelsius);
        var loads = OutletLoads.Of(feeder.At(sourceVolts), image, site.Limits, learned);
        var flow = Sweep.Solve(loads);
        var measured = DockMeasurements.Of(flow.State.Feeder, image, (name, leg) => flow.State.AmpsDrawnAt(name, leg).Magnitude, learned);
        foreach (var leg in site.Supply.Legs)
            measured.SetSource(leg, dock.Source.NoLoadVolts);
        var doubtful = DoubtfulReadings.SetAside(estimator, measured, flow.State);
        var likely = new LikelyDock(site, dock, image, learned, estimator.Estimate, doubtful);
        var cables = dock.Cables.ToDictionary(cable => cable.To, cable => CableOf(cable, likely, racewayCelsius));
        FollowSource(likely);
        FollowHeat(image.Now, cables);
        return EstimateOf(image.Now, flow.Status, racewayCelsius, likely, cables, Sweep.Solve(loads.At(noLoadVolts)).State);
    }

    /// <summary>Conductors warm slowly: their resistance is looked up once a minute.</summary>
    (Feeder Feeder, StateEstimator Estimator) FeederOf(DateTimeOffset now, double racewayCelsius)
    {
        var minute = now.UtcTicks / TimeSpan.TicksPerMinute;
        if (warmed is { } known && known.Minute == minute)
            return (known.Feeder, known.Estimator);
        var feeder = DockFeeder.Build(site, dock, noLoadVolts, cable =>
            (heat[cable.To].LegCelsius(racewayCelsius), heat[cable.To].NeutralCelsius(racewayCelsius)));
        var estimator = new StateEstimator(feeder, EstimatorNoise.Usual(site.Supply));
        warmed = (minute, feeder, estimator);
        return (feeder, estimator);
    }

    /// <summary>The next load flow starts from here; where that is nowhere, from the site file again.</summary>
    void FollowSource(LikelyDock likely)
    {
        var found = likely.Volts(DockFeeder.OpenCircuit);
        var isSound = site.Supply.Legs.All(leg => found[leg] > site.Supply.NominalVolts / 2 && double.IsFinite(found[leg]));
        sourceVolts = isSound ? found : noLoadVolts;
    }

    void FollowHeat(DateTimeOffset now, Dictionary<string, CableEstimate> cables)
    {
        var elapsed = now > last ? now - last.Value : TimeSpan.Zero; // a clock may have been set back
        foreach (var (outer, its) in heat)
            its.Follow(cables[outer].Amps, elapsed);
        last = now;
    }

    DockEstimate EstimateOf(
        DateTimeOffset now, LoadFlowStatus status, double racewayCelsius, LikelyDock likely, Dictionary<string, CableEstimate> cables,
        LoadFlowState atNoLoadVolts)
    {
        var (volts, amps) = (likely.Volts(DockDefinition.SourcePoint), likely.Amps(DockDefinition.SourcePoint));
        var kilovoltAmperes = likely.VoltAmperes(DockDefinition.SourcePoint) / 1000;
        return new(
            now,
            status,
            volts,
            amps,
            kilovoltAmperes,
            dock.Source.Transformer is { } transformer ? kilovoltAmperes * 1000 / transformer.RatingVoltAmperes : null,
            racewayCelsius,
            dock.Pedestals.Keys.ToDictionary(name => name, likely.Pedestal),
            cables)
        {
            AtNoLoadVolts = atNoLoadVolts,
            OpenCircuitVolts = sourceVolts,
            Doubtful = likely.Doubtful,
            Fit = likely.Fit,
            Unobserved = likely.Unobserved(),
            Meters = likely.Meters(),
        };
    }

    CableEstimate CableOf(CableDefinition cable, LikelyDock likely, double racewayCelsius)
    {
        var amps = likely.Amps(cable.To);
        var legAmpacity = cable.LegAmpacityAmps(racewayCelsius);
        var neutralAmpacity = cable.NeutralAmpacityAmps(racewayCelsius);
        return new(
            amps,
            likely.Drop(cable.To),
            legAmpacity,
            amps.Legs.Max(leg => amps[leg] / (leg == Leg.N ? neutralAmpacity : legAmpacity)),
            heat[cable.To].LegCelsius(racewayCelsius))
        {
            AmpsSd = likely.AmpsSd(cable.To),
        };
    }
}
