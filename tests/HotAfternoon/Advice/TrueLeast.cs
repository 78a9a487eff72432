using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon.Tests.Advice;

/// <summary>
/// The least amps that would have kept every pedestal of the true dock at some volts at one moment, by the simulator's own network and what the
/// people aboard could switch off: the linear program on its sensitivities, corrected by its full solution until it holds.
/// </summary>
static class TrueLeast
{
    const double LeastRequest = 2;

    /// <returns>Null where everything together does not do.</returns>
    public static double? Of(DockTruth truth, SiteDefinition site, double lowVolts)
    {
        var levers = truth.CanShed().GroupBy(one => (one.Outlet, one.Leg)).Select(lever => (lever.Key, Amps: lever.Sum(one => one.Amps)))
            .Where(lever => lever.Amps >= LeastRequest).ToList();
        var places = site.Docks["H"].Pedestals.Keys.SelectMany(name => site.Supply.Legs.Select(leg => (name, leg))).ToList();
        double[] Volts(double[] shed)
        {
            var left = levers.Zip(shed).ToDictionary(pair => pair.First.Key, pair => 1 - pair.Second / pair.First.Amps);
            var solution = truth.WithLeft((outlet, leg) => left.GetValueOrDefault((outlet, leg), 1));
            return [.. places.Select(place => truth.Volts(solution, place.name, place.leg))];
        }

        var now = Volts(new double[levers.Count]);
        var byLever = levers.Select((_, at) => Volts([.. levers.Select((_, other) => other == at ? 1.0 : 0)])).ToList();
        int[] low = [.. Enumerable.Range(0, places.Count).Where(at => now[at] < lowVolts + 1)];
        double[][] effect = [.. low.Select(at => byLever.Select(volts => volts[at] - now[at]).ToArray())];
        double[] needed = [.. low.Select(at => lowVolts - now[at])];
        double? least = null;
        for (var round = 0; round < 4; round++)
        {
            if (LeastAmps.Plan(effect, needed, [.. levers.Select(lever => lever.Amps)], LeastRequest) is not { } shed)
                return null;
            least = shed.Sum();
            var after = Volts(shed);
            needed = [.. low.Select((at, row) => lowVolts - after[at] + effect[row].Select((e, lever) => e * shed[lever]).Sum())];
        }
        return least;
    }
}
