using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;

namespace Farberth.Planning.Study;

/// <summary>How many more boats of a kind a dock takes.</summary>
/// <param name="FreeOutlets">Of that kind.</param>
/// <param name="Boats">Each put where it hurts least.</param>
/// <param name="First">The limit that the next boat would pass wherever it goes; null: there are no more free outlets.</param>
/// <param name="FirstValue">What that limit's value would be, V, A or VA.</param>
/// <param name="BoatsFromFarEnd">If they fill the dock from its far end inwards, until one passes a limit.</param>
public sealed record HostingCapacity(
    string Dock, Boat Boat, int FreeOutlets, int Boats, DockLimit? First, double FirstValue, int BoatsFromFarEnd);

/// <summary>Counts boats one by one, each through the full load flow in the hour in which such boats draw most.</summary>
public static class Hosting
{
    /// <param name="boat">With one cord; its kind is that of the cord.</param>
    /// <param name="present">What is drawn on the dock already; an outlet with a draw is not free.</param>
    /// <param name="outdoorCelsius">The day's highest.</param>
    public static HostingCapacity Of(SiteDefinition site, DockDefinition dock, Boat boat, IReadOnlyList<Draw> present, double outdoorCelsius)
    {
        var amps = TypicalBoat.PeakAmps(site.Supply, boat, outdoorCelsius);
        var @case = DockCase.Usual(site, dock, outdoorCelsius + site.Limits.SunRiseKelvin);
        var tree = new DockTree(dock);
        var free = (
            from point in tree.Points
            where dock.Pedestals.ContainsKey(point)
            from outlet in dock.Pedestals[point].Outlets.Values
            where boat.Cords[0].Fits(outlet) && !present.Any(draw => draw.Pedestal == point && draw.Outlet == outlet && draw.Amps > 0)
            select new Draw(point, outlet, amps)).ToList();
        var (boats, first) = Best(@case, present, free);
        return new(dock.Name, boat, free.Count, boats, first?.Tightest.Limit, first?.Tightest.Value ?? double.NaN, FromFarEnd(@case, present, free));
    }

    static (int Boats, DockFlow? First) Best(DockCase @case, IReadOnlyList<Draw> present, IReadOnlyList<Draw> outlets)
    {
        List<Draw> draws = [.. present], free = [.. outlets];
        while (free.Count > 0)
        {
            var (draw, flow) = free.Select(next => (Draw: next, Flow: @case.Solve([.. draws, next]))).MaxBy(next => Room(next.Flow));
            if (!flow.IsGood)
                return (outlets.Count - free.Count, flow);
            draws.Add(draw);
            free.Remove(draw);
        }
        return (outlets.Count, null);
    }

    static int FromFarEnd(DockCase @case, IReadOnlyList<Draw> present, IReadOnlyList<Draw> outwards)
    {
        List<Draw> draws = [.. present];
        for (var at = outwards.Count - 1; at >= 0; at--)
        {
            draws.Add(outwards[at]);
            if (!@case.Solve(draws).IsGood)
                return outwards.Count - 1 - at;
        }
        return outwards.Count;
    }

    static double Room(DockFlow flow) => flow.Result.Converged && flow.Tightest is var (limit, value) ? limit.Room(value) : double.NegativeInfinity;
}
