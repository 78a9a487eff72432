using Farberth.Grid.Network;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;
using Farberth.Planning.Study;
using Farberth.Planning.Survey;

namespace Farberth.Planning.Replays;

/// <summary>A recorded day as the load flow has it.</summary>
/// <param name="When">Of the lowest volts, UTC.</param>
/// <param name="BelowBandHours">Time in which some pedestal was below band A.</param>
/// <param name="OverloadHours">Time in which some other limit was passed.</param>
/// <param name="MostVoltAmperes">Drawn from behind the transformer.</param>
public sealed record DayOutcome(
    double LowestVolts, string Pedestal, Leg Leg, DateTimeOffset When, double BelowBandHours, double OverloadHours,
    double MostVoltAmperes, double LossKilowattHours);

/// <summary>A recorded day beside itself with changes.</summary>
/// <param name="BoatsPlaced">Of the boats that were to come more: those for which an outlet was free.</param>
public sealed record WhatIfResult(DockDefinition Dock, IReadOnlyList<Change> Changes, DayOutcome Before, DayOutcome After, int BoatsPlaced);

/// <summary>
/// Replays the quarter-hours of a record. Outlets draw what they drew, at nominal volts: amps answer to other volts by the site's load
/// response. The volts behind the transformer are those that explain what the pedestals measured that quarter. Before and after are both by
/// the load flow, so that its own errors cancel; a joint is put into the former and left out of the latter.
/// </summary>
public static class WhatIf
{
    /// <returns>Null: the record has no quarter-hour of the whole dock.</returns>
    public static WhatIfResult? Of(SiteDefinition site, DockHistory history, IReadOnlyList<Change> changes)
    {
        if (history.Whole.Count == 0)
            return null;
        var kelvin = changes.OfType<Hotter>().Sum(change => change.Kelvin);
        var joints = changes.OfType<JointRepair>().ToList();
        var before = DockCase.Usual(site, history.Dock, site.Limits.RacewayCelsius).With(joints.Select(joint => (joint.To, joint.Conductor, joint.Milliohms / 1000)));
        var dock = changes.OfType<CableChange>().Aggregate(history.Dock, Exchanged);
        var after = DockCase.Usual(site, dock, site.Limits.RacewayCelsius + kelvin);
        var boats = Boats(site, after, history, changes.OfType<MoreBoats>());
        var zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);
        IEnumerable<Draw> Changed(HistoryQuarter quarter) => quarter.Draws
            .Select(draw => draw with { Amps = draw.Amps * Warmer(quarter.Celsius, kelvin) })
            .Concat(boats.Select(boat => new Draw(boat.Pedestal, boat.Outlet, BoatDemand.AmpsPerContact(
                site.Supply, boat.Boat, TimeZoneInfo.ConvertTime(quarter.Start, zone).TimeOfDay.TotalHours, Celsius(quarter) + kelvin))));
        var quarters = history.Whole.Select(quarter => (Quarter: quarter, NoLoad: history.NoLoadVolts(before, quarter))).ToList();
        return new(
            history.Dock, changes,
            Outcome(quarters.Select(at => (at.Quarter.Start, before.Solve(at.Quarter.Draws, at.NoLoad)))),
            Outcome(quarters.Select(at => (at.Quarter.Start, after.Solve(Changed(at.Quarter), at.NoLoad)))),
            boats.Count);
    }

    /// <summary>Where no weather was recorded a warm day is taken (assumed).</summary>
    static double Celsius(HistoryQuarter quarter) => double.IsNaN(quarter.Celsius) ? 30 : quarter.Celsius;

    /// <summary>4 % more for each kelvin above the heat at which cooling begins: what the forecast assumes before it has learned (assumed).</summary>
    static double Warmer(double celsius, double kelvin)
    {
        double Degrees(double at) => Math.Max(0, (double.IsNaN(at) ? 30 : at) - Profile.CoolingFromCelsius);
        return 1 + Profile.AssumedSlopeShare * (Degrees(celsius + kelvin) - Degrees(celsius));
    }

    static DockDefinition Exchanged(DockDefinition dock, CableChange change)
    {
        var cable = dock.Cables.First(each => each.To == change.To);
        var neutral = cable.Neutral == cable.Conductor ? change.Conductor : cable.Neutral;
        return Upgrade.With(dock, cable, cable with { Conductor = change.Conductor, Neutral = neutral, AmpacityAmps = null });
    }

    static List<(string Pedestal, OutletDefinition Outlet, Boat Boat)> Boats(
        SiteDefinition site, DockCase @case, DockHistory history, IEnumerable<MoreBoats> wanted)
    {
        var placed = new List<(string Pedestal, OutletDefinition Outlet, Boat Boat)>();
        var drew = history.Whole.SelectMany(quarter => quarter.Draws).Where(draw => draw.Amps >= site.Limits.DrawingAmps)
            .Select(draw => (draw.Pedestal, draw.Outlet.Name)).ToHashSet();
        var heaviest = history.Whole.MaxBy(quarter => quarter.Draws.Sum(draw => draw.Amps))!.Draws;
        foreach (var more in wanted)
        {
            var boat = TypicalBoat.Of(site.Supply, new(more.RatingAmps, more.Legs, true));
            var amps = BoatDemand.AmpsPerContact(site.Supply, boat, 16, 35);
            List<Draw> free =
            [
                .. from pedestal in history.Dock.Pedestals.Values
                   from outlet in pedestal.Outlets.Values
                   where boat.Cords[0].Fits(outlet) && !drew.Contains((pedestal.Name, outlet.Name))
                   select new Draw(pedestal.Name, outlet, amps),
            ];
            for (var count = 0; count < more.Count && free.Count > 0; count++)
            {
                var next = free.MaxBy(draw => @case.Solve([.. heaviest, .. placed.Select(at => new Draw(at.Pedestal, at.Outlet, amps)), draw]).Lowest.Volts);
                free.Remove(next);
                placed.Add((next.Pedestal, next.Outlet, boat));
            }
        }
        return placed;
    }

    static DayOutcome Outcome(IEnumerable<(DateTimeOffset Start, DockFlow Flow)> quarters)
    {
        var all = quarters.ToList();
        var (when, worst) = all.MinBy(at => at.Flow.Lowest.Volts);
        var hours = HistoryQuarter.Length.TotalHours;
        bool Passes(DockFlow flow, Func<LimitKind, bool> kind) =>
            flow.Case.Limits.Zip(flow.Values).Any(pair => kind(pair.First.Kind) && pair.First.Room(pair.Second) < 0);
        return new(
            worst.Lowest.Volts, worst.Lowest.Pedestal, worst.Lowest.Leg, when,
            hours * all.Count(at => Passes(at.Flow, kind => kind == LimitKind.Volts)),
            hours * all.Count(at => Passes(at.Flow, kind => kind != LimitKind.Volts)),
            all.Max(at => at.Flow.SourceVoltAmperes), hours * all.Sum(at => at.Flow.LossWatts) / 1000);
    }
}
