using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>A cable carries more than its ampacity in the raceway it lies in now, or the feeder breaker more than its continuous limit.</summary>
sealed class CableOverload : IAlarmRule
{
    const double HighAbove = 0.15;

    public AlarmKind Kind => AlarmKind.CableOverload;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        foreach (var cable in picture.Dock.Cables)
        {
            var estimate = picture.Estimate.Cables[cable.To];
            if (estimate.Load > 1 || picture.Recalled.At(Kind, cable.To))
                yield return Of(picture, cable, estimate);
        }
        if (picture.Dock.FeederBreakerAmps is { } rating)
            yield return FeederBreaker(picture, rating);
    }

    static Finding Of(DockPicture picture, CableDefinition cable, CableEstimate estimate) =>
        Of(picture, cable.To, estimate.Load - 1, () => Describe(cable.From, cable.To, estimate, picture.Estimate));

    static Finding FeederBreaker(DockPicture picture, double ratingAmps)
    {
        var limitAmps = picture.Site.Limits.ContinuousAmps(ratingAmps);
        var legs = picture.Estimate.SourceAmps;
        var leg = legs.Legs.Where(leg => leg != Leg.N).MaxBy(leg => legs[leg]);
        return Of(picture, Place.FeederBreaker, legs[leg] / limitAmps - 1, () => new(
            Invariant($"The feeder breaker of dock {picture.Dock.Name} carries {legs[leg]:0} A on {leg}; for hours it should carry no more than {limitAmps:0} A. If it trips, the whole dock goes dark."),
            new JsonObject { ["amps"] = Math.Round(legs[leg], 1), ["limit"] = limitAmps, ["rating"] = ratingAmps, ["leg"] = leg.ToString() }));
    }

    static Finding Of(DockPicture picture, string cable, double margin, Func<Description> describe) => new(
        new Place(picture.Dock.Name, cable),
        margin,
        margin > HighAbove ? Priorities.Of(Consequence.Danger, minutesToRespond: 30) : Priorities.Of(Consequence.Damage, minutesToRespond: 60),
        Audience.Electrician | Audience.Harbormaster,
        describe);

    static Description Describe(string from, string to, CableEstimate cable, DockEstimate dock)
    {
        var amps = cable.Amps.Legs.Max(leg => cable.Amps[leg]);
        return new(
            Invariant($"The cable from {from} to {to} carries {amps:0} A, {cable.Load:P0} of what it may carry at {dock.RacewayCelsius:0} °C in its raceway. Take load off the pedestals beyond it."),
            new JsonObject
            {
                ["amps"] = Math.Round(amps, 1),
                ["limit"] = Math.Round(cable.AmpacityAmps, 1),
                ["load"] = Math.Round(cable.Load, 3),
                ["conductor-celsius"] = Math.Round(cable.ConductorCelsius, 1),
            });
    }
}
