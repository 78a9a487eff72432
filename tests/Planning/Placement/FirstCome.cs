using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

/// <summary>How slips are given away where nobody computes: who calls first gets the first free slip that fits by size and plug.</summary>
static class FirstCome
{
    public static Plan Of(PlacementProblem problem)
    {
        var berths = new Dictionary<Guest, Berth>();
        foreach (var guest in problem.Guests)
            if (guest.Berths.FirstOrDefault(berth => !GreedyPlan.Taken(berths, guest).Contains(berth.Slip)) is { } berth)
                berths[guest] = berth;
        return new(berths);
    }
}
