using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Words;
using Farberth.Planning.Flow;
using Farberth.Planning.Loads;
using Farberth.Planning.Placement;
using Farberth.Service.Access;
using Farberth.Service.Boater;
using Farberth.Service.Views;

namespace Farberth.Service.Placing;

/// <summary>Where one boat that asks could lie, beside those who are there: by who is written down, what their outlets are expected to draw, and the weather.</summary>
public sealed class SlipSearch(LatestView latest, Stays stays, Showing showing)
{
    const double NearlyMost = 0.9;

    /// <summary>A day of which the forecast has fewer may lack its hottest.</summary>
    const int HoursOfADay = 18;

    /// <returns>The slips; or why there are none, in words.</returns>
    public async Task<SlipsFound> For(BoatAsking asking)
    {
        if (asking.Objection is { } objection)
            return new(null, 0, objection);
        var view = latest.Value;
        if (view.Docks.Count == 0)
            return new(null, 0, Sentence.Of("Nothing is known of the docks yet."));
        var written = (await stays.List().ConfigureAwait(false)).Where(stay => stay.From < asking.Until && stay.To > asking.From);
        var present = Present(view, asking, written);
        var outdoor = OutdoorOf(view);
        // A tenth of a second of arithmetic: not in the turn of whoever asked.
        var offers = await Task.Run(() => Planner.Rank(view.Site, present, Expected(view), asking.Arrival(), outdoor)).ConfigureAwait(false);
        return new(offers, outdoor.HighestCelsius, null);
    }

    /// <summary>Who is written down for the time, and boats that are seen without that.</summary>
    static List<Stay> Present(SiteView view, BoatAsking asking, IEnumerable<BoatStay> written)
    {
        var present = written.Select(stay => new Stay(stay.Slip, Unknown(stay.Boat), stay.To, MayMove: false)).ToList();
        var seen = from step in view.Docks.Values
                   from slip in step.Picture.Tree.OutletsOfSlips
                   where slip.Outlets.Any(outlet => step.Picture.Image.Pedestals[outlet.Pedestal].Outlets[outlet.Outlet].BoatPresent == true)
                   select slip.Slip;
        present.AddRange(seen.Where(slip => present.TrueForAll(stay => stay.Slip != slip)).Select(slip =>
            new Stay(slip, Unknown("somebody"), asking.Until, MayMove: false)));
        return present;
    }

    static Boat Unknown(string name) => new(name, 0, 0, 0, [], 0);

    /// <summary>
    /// Of every outlet that is heard, nearly the most of the next 24 hours as forecast (9 in 10 hours stay below), or what it draws now if that is more;
    /// where nobody is, what it draws now.
    /// </summary>
    static List<Draw> Expected(SiteView view) =>
    [
        .. from step in view.Docks.Values
           let free = FreeSlips.Of(step).ToHashSet()
           from risk in step.Picture.Outlets
           let forecast = free.Contains(risk) ? null : step.Picture.Forecast?.Outlets.GetValueOrDefault(new(risk.Pedestal, risk.Outlet.Name))
           select new Draw(risk.Pedestal, risk.Outlet, Math.Max(risk.Amps, Most(forecast))),
    ];

    static double Most(OutletForecast? forecast) => forecast == null ? 0
        : OutletForecast.MinutesAhead.Max(minutes => forecast.AmpsAt(minutes, NearlyMost));

    /// <summary>As the weather forecast has it, day by day; hot days where there is none.</summary>
    Outdoor OutdoorOf(SiteView view)
    {
        var hours = view.Docks.Values.Select(step => step.Picture.Image.Weather).FirstOrDefault(weather => weather is { Forecast.Count: > 0 })?.Forecast ?? [];
        var days = hours.GroupBy(hour => DateOnly.FromDateTime(showing.Local(hour.Time).DateTime))
            .Where(day => day.Count() >= HoursOfADay)
            .ToDictionary(day => day.Key, day => new DayCelsius(day.Max(hour => hour.Celsius), day.Min(hour => hour.Celsius)));
        return days.Count == 0 ? Outdoor.HotDays
            : new(new(days.Values.Max(day => day.High), days.Values.Max(day => day.Low)), days);
    }
}

/// <param name="Offers">Null where there is an objection.</param>
/// <param name="PlannedForCelsius">Hottest hour that was counted on.</param>
public sealed record SlipsFound(SlipOffers? Offers, double PlannedForCelsius, Sentence? Objection);

/// <summary>A boat as the harbormaster hears of it at the radio.</summary>
/// <param name="Cord">Null: it wants no power.</param>
/// <param name="Cords">Of that kind, all out at once.</param>
public sealed record BoatAsking(
    string Name, double LengthMetres, double BeamMetres, double DraughtMetres, Cord? Cord, int Cords, int AirConditioners,
    DateTimeOffset From, DateTimeOffset Until)
{
    const double LongestMetres = 200;
    const int MostCords = 4, MostAirConditioners = 12;

    static readonly TimeSpan Longest = TimeSpan.FromDays(60);

    /// <summary>What cannot be so, in words; null where all can.</summary>
    public Sentence? Objection => this switch
    {
        _ when !(LengthMetres is > 0 and <= LongestMetres && BeamMetres is >= 0 and <= LongestMetres && DraughtMetres is >= 0 and <= LongestMetres)
            => Sentence.Of("Say how long, wide and deep the boat is."),
        _ when Cords is < 0 or > MostCords || AirConditioners is < 0 or > MostAirConditioners => Sentence.Of("So many cords or air conditioners are not planned for."),
        _ when Until <= From => Sentence.Of("The stay ends before it begins."),
        _ when Until - From > Longest => Sentence.Of("So long a stay is not looked through: at most {0} days.", Longest.Days),
        _ => null,
    };

    internal Arrival Arrival() => new(
        new(Name, LengthMetres, BeamMetres, DraughtMetres, Cord is { } cord ? [.. Enumerable.Repeat(cord, Cords)] : [], AirConditioners), From, Until, null, []);
}
