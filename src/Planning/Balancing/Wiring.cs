using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Balancing;

/// <summary>The ways in which an outlet's contacts can hang on the legs of a dock.</summary>
static class Wiring
{
    /// <summary>
    /// One leg: any. Two with a neutral: any two, in either order, since what hangs on the two differs. Two without one: any two, the order is
    /// without meaning. Three: the rotations only, the others let motors run backwards.
    /// </summary>
    /// <returns>For each way the leg of each contact, in the order of the outlet's own; the first is as it is.</returns>
    public static IReadOnlyList<LegList> Ways(IReadOnlyList<Leg> legs, OutletDefinition outlet)
    {
        var own = outlet.Legs;
        var others = own.Count switch
        {
            1 => legs.Select(leg => LegList.Of([leg])),
            2 => from one in legs
                 from other in legs
                 where one != other && (!OutletPower.IsBetweenLegs(outlet) || one < other && !(own.Contains(one) && own.Contains(other)))
                 select LegList.Of([one, other]),
            _ => Enumerable.Range(1, own.Count - 1).Select(turn => LegList.Of([.. own.Select((_, at) => own[(at + turn) % own.Count])])),
        };
        return [own, .. others.Where(way => !way.SequenceEqual(own))];
    }
}
