using System.Text.Json.Nodes;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>One leg of the dock carries much more than the mean of all: the neutral works, and that leg sags first.</summary>
sealed class LegImbalance : IAlarmRule
{
    /// <summary>Below this mean a difference between the legs means little.</summary>
    const double LeastMeanAmps = 20;

    public AlarmKind Kind => AlarmKind.LegImbalance;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        var amps = picture.Estimate.SourceAmps;
        var legs = picture.Site.Supply.Legs;
        if (legs.Count < 2)
            yield break;
        var mean = legs.Average(leg => amps[leg]);
        var heaviest = legs.MaxBy(leg => amps[leg]);
        var share = mean < LeastMeanAmps ? 0 : amps[heaviest] / mean - 1;
        yield return new Finding(
            new Place(picture.Dock.Name),
            share / picture.Site.Limits.LegImbalanceShare - 1,
            Priorities.Of(Consequence.Service, minutesToRespond: 24 * 60),
            Audience.Electrician | Audience.Harbormaster,
            () => new(
                [
                    Sentence.Of(
                        "Leg {0} of dock {1} carries {2:0} A, {3:P0} above the mean of the legs; the neutral carries {4:0} A.",
                        heaviest, picture.Dock.Name, amps[heaviest], share, amps.N),
                    Sentence.Of("Give the next boats the other leg."),
                ],
                new JsonObject
                {
                    ["leg"] = heaviest.ToString(),
                    ["amps"] = Math.Round(amps[heaviest], 1),
                    ["mean"] = Math.Round(mean, 1),
                    ["neutral"] = Math.Round(amps.N, 1),
                    ["share"] = Math.Round(share, 3),
                    ["limit"] = picture.Site.Limits.LegImbalanceShare,
                }));
    }
}
