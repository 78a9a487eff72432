using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

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
            [
                Sentence.Of("The feeder breaker of dock {0} carries {1:0} A on {2}; for hours it should carry no more than {3:0} A.", picture.Dock.Name, legs[leg], leg, limitAmps),
                Sentence.Of("If it trips, the whole dock goes dark."),
            ],
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
            [
                Sentence.Of("The cable from {0} to {1} carries {2:0} A, {3:P0} of what it may carry at {4:0} °C in its raceway.", from, to, amps, cable.Load, dock.RacewayCelsius),
                Sentence.Of("Take load off the pedestals beyond it."),
            ],
            new JsonObject
            {
                ["amps"] = Math.Round(amps, 1),
                ["limit"] = Math.Round(cable.AmpacityAmps, 1),
                ["load"] = Math.Round(cable.Load, 3),
                ["conductor-celsius"] = Math.Round(cable.ConductorCelsius, 1),
            });
    }
}
