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
    readonly NameList pedestalNames = new(dock.Pedestals.Keys);
    readonly NameList cableNames = new(dock.Cables.Select(cable => cable.To));
    readonly PerLeg noLoadVolts = DockFeeder.Equal(site.Supply, dock.Source.NoLoadVolts);
    PerLeg sourceVolts = DockFeeder.Equal(site.Supply, dock.Source.NoLoadVolts);
    DateTimeOffset? last;
    (WarmFeeder Of, Feeder Feeder, StateEstimator Estimator)? warmed;

    /// <param name="learned">As of the tick before.</param>
    public DockEstimate Estimate(DockImage image, DockLearned learned)
    {
        var racewayCelsius = AirInTheSun.Celsius(image, site.Limits, zone, site.Limits.SunRiseKelvin, sunsetHour: 18);
        var (feeder, estimator) = FeederOf(image.Now, racewayCelsius);
        var loads = OutletLoads.Of(feeder.At(sourceVolts), image, site.Limits, learned);
        var flow = Sweep.Solve(loads);
        var measured = DockMeasurements.Of(flow.State, image, learned);
        foreach (var leg in site.Supply.Legs)
            measured.SetSource(leg, dock.Source.NoLoadVolts);
        var doubtful = DoubtfulReadings.SetAside(estimator, measured, flow.State);
        var likely = new LikelyDock(site, dock, image, learned, estimator.Estimate, doubtful);
        var cables = cableNames.Each(at => CableOf(dock.Cables[at], likely, racewayCelsius));
        FollowSource(likely);
        var estimate = EstimateOf(image.Now, loads, flow, racewayCelsius, likely, cables);
        FollowHeat(image.Now, cables);
        return estimate;
    }

    /// <summary>Conductors warm slowly: their resistance is looked up once a minute.</summary>
    (Feeder Feeder, StateEstimator Estimator) FeederOf(DateTimeOffset now, double racewayCelsius)
    {
        var minute = now.UtcTicks / TimeSpan.TicksPerMinute;
        if (warmed is { } known && known.Of.Minute == minute)
            return (known.Feeder, known.Estimator);
        return Warm(new(minute, dock.Cables.ToDictionary(cable => cable.To, cable =>
            new CableCelsius(heat[cable.To].LegCelsius(racewayCelsius), heat[cable.To].NeutralCelsius(racewayCelsius)))));
    }

    (Feeder Feeder, StateEstimator Estimator) Warm(WarmFeeder warm)
    {
        var feeder = DockFeeder.Build(site, dock, noLoadVolts, cable => (warm.Cables[cable.To].Legs, warm.Cables[cable.To].Neutral));
        var estimator = new StateEstimator(feeder, EstimatorNoise.Usual(site.Supply));
        warmed = (warm, feeder, estimator);
        return (feeder, estimator);
    }

    /// <summary>The next load flow starts from here; where that is nowhere, from the site file again.</summary>
    void FollowSource(LikelyDock likely)
    {
        var found = likely.Volts(DockFeeder.OpenCircuit);
        var isSound = site.Supply.Legs.All(leg => found[leg] > site.Supply.NominalVolts / 2 && double.IsFinite(found[leg]));
        sourceVolts = isSound ? found : noLoadVolts;
    }

    void FollowHeat(DateTimeOffset now, ByName<CableEstimate> cables)
    {
        var elapsed = now > last ? now - last.Value : TimeSpan.Zero; // a clock may have been set back
        foreach (var (outer, its) in heat)
            its.Follow(cables[outer].Amps, elapsed);
        last = now;
    }

    DockEstimate EstimateOf(
        DateTimeOffset now, LoadSet loads, LoadFlowResult flow, double racewayCelsius, LikelyDock likely, ByName<CableEstimate> cables)
    {
        var (volts, amps) = (likely.Volts(DockDefinition.SourcePoint), likely.Cable(DockDefinition.SourcePoint).Amps);
        var pedestals = pedestalNames.Each(at => likely.Pedestal(pedestalNames.Names[at]));
        var kilovoltAmperes = likely.VoltAmperes(DockDefinition.SourcePoint) / 1000;
        return new(
            now,
            flow.Status,
            volts,
            amps,
            kilovoltAmperes,
            dock.Source.Transformer is { } transformer ? kilovoltAmperes * 1000 / transformer.RatingVoltAmperes : null,
            racewayCelsius,
            pedestals,
            cables)
        {
            FromSource = flow.State,
            SolveAtNoLoadVolts = new(() => Sweep.Solve(loads.At(noLoadVolts)).State),
            OpenCircuitVolts = sourceVolts,
            Doubtful = likely.Doubtful,
            Fit = likely.Fit,
            Meters = likely.Meters(since: last),
            LookForUnobserved = new(() => likely.Unobserved(pedestals)),
        };
    }

    CableEstimate CableOf(CableDefinition cable, LikelyDock likely, double racewayCelsius)
    {
        var (amps, drops, sd) = likely.Cable(cable.To);
        var legAmpacity = cable.LegAmpacityAmps(racewayCelsius);
        var neutralAmpacity = cable.NeutralAmpacityAmps(racewayCelsius);
        return new(
            amps,
            drops,
            legAmpacity,
            Highest(amps, legAmpacity, neutralAmpacity),
            heat[cable.To].LegCelsius(racewayCelsius))
        {
            AmpsSd = sd,
        };
    }

    public EstimatorMemory Memory() => new(sourceVolts, last, warmed?.Of, heat.ToDictionary(pair => pair.Key, pair => pair.Value.Memory()));

    public void Resume(EstimatorMemory memory)
    {
        (sourceVolts, last) = (memory.SourceVolts, memory.Last);
        foreach (var (outer, its) in memory.Heat)
            heat[outer].Resume(its);
        if (memory.Warmed is { } warm)
            Warm(warm);
    }

    /// <summary>Share of the ampacity in the conductor that has the most.</summary>
    static double Highest(PerLeg amps, double legAmpacity, double neutralAmpacity)
    {
        var highest = double.NaN; // which is no number and so below all
        foreach (var leg in amps.Legs)
            highest = double.MaxNumber(highest, amps[leg] / (leg == Leg.N ? neutralAmpacity : legAmpacity));
        return highest;
    }
}

/// <param name="Warmed">What the feeder in use is made of.</param>
/// <param name="Heat">By cable.</param>
sealed record EstimatorMemory(
    PerLeg SourceVolts, DateTimeOffset? Last, WarmFeeder? Warmed, IReadOnlyDictionary<string, CableHeatMemory> Heat);

/// <summary>How warm the cables were when the feeder of a minute was built.</summary>
sealed record WarmFeeder(long Minute, IReadOnlyDictionary<string, CableCelsius> Cables);

readonly record struct CableCelsius(double Legs, double Neutral);
