using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;

namespace Farberth.Planning.Survey;

/// <summary>
/// What the outlets of a slip usually draw at an hour of a day of the week with so much heat, by their recorded past: the forecast's own
/// usual (docs/algorithms/forecast.md), which reaches 27 days past the record's end.
/// </summary>
public sealed class UsualLoads
{
    readonly ILookup<string, Past> bySlip;
    readonly QuarterRing cooling = new();
    readonly TimeZoneInfo zone;

    public UsualLoads(SiteDefinition site, IReadOnlyList<DockHistory> histories)
    {
        zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);
        foreach (var quarter in histories.SelectMany(history => history.Quarters).DistinctBy(quarter => quarter.Start).OrderBy(quarter => quarter.Start))
            cooling.Add(Quarters.Of(quarter.Start), Degrees(quarter.Celsius));
        bySlip = histories.SelectMany(Pasts).Where(past => past.Outlet.Slip != null).ToLookup(past => past.Outlet.Slip!);
    }

    /// <returns>Null where the record says nothing of that hour.</returns>
    public IReadOnlyList<Draw>? Of(string slip, HourSlot slot)
    {
        var target = Quarters.Of(slot.Start) + Quarters.PerHour / 2;
        List<Draw> draws =
        [
            .. from past in bySlip[slip]
               let amps = Profile.At(past.Values, cooling, target, Quarters.Day(target, zone), Degrees(slot.Celsius), Profile.AssumedSlopeShare).Mean
               where !double.IsNaN(amps)
               select new Draw(past.Pedestal, past.Outlet, Math.Max(0, amps)),
        ];
        return draws.Count == 0 ? null : draws;
    }

    static IEnumerable<Past> Pasts(DockHistory history)
    {
        var pasts = new Dictionary<(string, string, string), Past>();
        foreach (var quarter in history.Quarters)
            foreach (var draw in quarter.Draws)
            {
                var key = (draw.Pedestal, draw.Outlet.Name, string.Join('+', draw.Outlet.Legs));
                if (!pasts.TryGetValue(key, out var past))
                    pasts[key] = past = new(draw.Pedestal, draw.Outlet, new());
                past.Values.Add(Quarters.Of(quarter.Start), draw.Amps);
            }
        return pasts.Values;
    }

    static double Degrees(double celsius) => Math.Max(0, celsius - Profile.CoolingFromCelsius);

    sealed record Past(string Pedestal, OutletDefinition Outlet, QuarterRing Values);
}
