using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Advice;

/// <summary>Every limit that boaters can be asked to bring back. A new one is a method and a line in <see cref="All"/>.</summary>
static class AdviceLimits
{
    static readonly IReadOnlyList<Func<DockPicture, IReadOnlyList<Lever>, IEnumerable<Limit>>> All =
        [OutletsOwn, Cables, FeederBreaker, Transformer, Volts];

    /// <summary>What an outlet may carry, A, and why; the lowest counts. What its breaker stands is a line more.</summary>
    static readonly IReadOnlyList<(Func<OutletRisk, double> Amps, string Words)> OutletAmps =
    [
        (risk => risk.ContinuousAmps, "for hours it should carry no more than"),
        (ContactAmps, "its plug gets too hot above about"),
    ];

    public static IReadOnlyList<Limit> Of(DockPicture picture, IReadOnlyList<Lever> levers)
    {
        var all = new List<Limit>();
        foreach (var limits in All)
            all.AddRange(limits(picture, levers));
        return all;
    }

    /// <summary>The lowest volts that are kept, leg to neutral.</summary>
    public static double LowVolts(SiteDefinition site) => site.Advice.LowVolts ?? site.Limits.Volts.LowA;

    static IEnumerable<Limit> OutletsOwn(DockPicture picture, IReadOnlyList<Lever> levers)
    {
        var risks = picture.Outlets.ToDictionary(risk => new OutletKey(risk.Pedestal, risk.Outlet.Name));
        for (var at = 0; at < levers.Count; at++)
        {
            var (lever, index) = (levers[at], at);
            if (!risks.TryGetValue(lever.Key, out var risk))
                continue;
            var (limitAmps, words) = Lowest(risk);
            var volts = picture.Estimate.Pedestals[lever.Pedestal].Volts[lever.Leg];
            yield return new(
                $"outlet {lever.Pedestal}.{lever.Outlet.Name} {lever.Leg}", AlarmKind.Overload, lever.Amps / limitAmps - 1,
                after => SagResponse.AmpsAt(after.State.VoltsAt(lever.Pedestal, lever.Leg).Magnitude, lever.Amps - after.ShedAmps[index], volts, risk.Response.Exponent) / limitAmps - 1,
                () => Invariant($"outlet {lever.Outlet.Name} of pedestal {lever.Pedestal} carries {lever.Amps:0.0} A; {words} {limitAmps:0.#} A"),
                lever);
        }
    }

    static (double Amps, string Words) Lowest(OutletRisk risk)
    {
        var (lowest, words) = (OutletAmps[0].Amps(risk), OutletAmps[0].Words);
        for (var at = 1; at < OutletAmps.Count; at++)
            if (OutletAmps[at].Amps(risk) is var amps && amps < lowest)
                (lowest, words) = (amps, OutletAmps[at].Words);
        return (lowest, words);
    }

    /// <summary>Where the contacts are at risk of passing their limit: the amps that would keep them at it.</summary>
    static double ContactAmps(OutletRisk risk) => risk.Contact is { } contact && contact.RiskCelsius > contact.LimitCelsius
        ? Math.Max(ShedPlanner.LeastAmps, contact.AmpsFor(contact.LimitCelsius)) : double.PositiveInfinity;

    static IEnumerable<Limit> Cables(DockPicture picture, IReadOnlyList<Lever> levers)
    {
        foreach (var cable in picture.Dock.Cables)
        {
            var estimate = picture.Estimate.Cables[cable.To];
            var neutralAmps = cable.Neutral == cable.Conductor
                ? estimate.AmpacityAmps : cable.Sets * cable.Neutral.AmpacityAmps(cable.Rating, picture.Estimate.RacewayCelsius);
            foreach (var conductor in picture.Site.Supply.Legs.Append(Leg.N))
            {
                var ampacity = conductor == Leg.N ? neutralAmps : estimate.AmpacityAmps;
                yield return new(
                    $"cable {cable.To} {conductor}", AlarmKind.CableOverload, estimate.Amps[conductor] / ampacity - 1,
                    after => after.State.AmpsInto(cable.To, conductor).Magnitude / ampacity - 1,
                    () => Invariant($"the cable from {cable.From} to {cable.To} carries {estimate.Amps[conductor]:0} A on {conductor}; it may carry {ampacity:0} A"));
            }
        }
    }

    static IEnumerable<Limit> FeederBreaker(DockPicture picture, IReadOnlyList<Lever> levers)
    {
        if (picture.Dock.FeederBreakerAmps is not { } rating)
            yield break;
        var limitAmps = picture.Site.Limits.ContinuousAmps(rating);
        foreach (var leg in picture.Site.Supply.Legs)
            yield return new(
                $"feeder breaker {leg}", AlarmKind.CableOverload, picture.Estimate.SourceAmps[leg] / limitAmps - 1,
                after => after.State.AmpsInto(DockDefinition.SourcePoint, leg).Magnitude / limitAmps - 1,
                () => Invariant($"the feeder breaker carries {picture.Estimate.SourceAmps[leg]:0} A on {leg}; for hours it should carry no more than {limitAmps:0} A"));
    }

    static IEnumerable<Limit> Transformer(DockPicture picture, IReadOnlyList<Lever> levers)
    {
        if (picture.Dock.Source.Transformer is not { } transformer || picture.Estimate.TransformerLoad is not { } load)
            yield break;
        yield return new(
            "transformer", AlarmKind.TransformerOverload, load - 1,
            after => after.State.VoltAmperesInto(DockDefinition.SourcePoint).Magnitude / transformer.RatingVoltAmperes - 1,
            () => Invariant($"the dock's transformer carries {picture.Estimate.SourceKilovoltAmperes:0} kVA; it is rated {transformer.RatingVoltAmperes / 1000:0.#} kVA"));
    }

    /// <summary>
    /// Volts fall at once and people take minutes: they are asked while the volts are still above the limit by the alarm's deadband, and
    /// brought back to twice that.
    /// </summary>
    static IEnumerable<Limit> Volts(DockPicture picture, IReadOnlyList<Lever> levers)
    {
        var lowVolts = LowVolts(picture.Site);
        var earlyVolts = lowVolts * (1 + picture.Site.AlarmTimings[AlarmKind.Undervoltage].Deadband);
        foreach (var (name, pedestal) in picture.Estimate.Pedestals)
            foreach (var leg in picture.Site.Supply.Legs.Where(leg => !IsDead(picture, name, leg)))
                yield return new(
                    $"volts {name} {leg}", AlarmKind.Undervoltage, 1 - pedestal.Volts[leg] / earlyVolts,
                    after => 1 - after.State.VoltsAt(name, leg).Magnitude / earlyVolts,
                    () => Invariant($"pedestal {name} has {pedestal.Volts[leg]:0.0} V on {leg}; it should not fall below {lowVolts:0.#} V"));
    }

    /// <summary>No volts at all are a lost supply, which no boat can bring back by switching off.</summary>
    static bool IsDead(DockPicture picture, string pedestal, Leg leg) => picture.Image.Pedestals[pedestal] is { IsFresh: true, Latest: { } reading }
        && reading.Volts[leg] < picture.Site.Supply.NominalVolts / 2;
}
