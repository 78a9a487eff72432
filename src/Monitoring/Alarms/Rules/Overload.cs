using System.Text.Json.Nodes;
using Farberth.Monitoring.Risk;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// An outlet carries more than it may for hours, or so much that its breaker may open within the hour: that is raised at once. In a
/// sagging dock it says how much of the amps the missing volts have brought, and what another volt would bring. Starts of motors
/// are left out; what a locked rotor draws for two readings is not.
/// </summary>
sealed class Overload : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.Overload;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        foreach (var outlet in picture.Outlets)
        {
            var mayTrip = outlet.Trip.MayOpen;
            var margin = Math.Max(outlet.Trip.Amps / outlet.ContinuousAmps - 1, mayTrip ? outlet.Trip.Margin : double.NegativeInfinity);
            if (margin > 0 || picture.Recalled.At(Kind, outlet.Pedestal))
                yield return Of(picture, outlet, margin, mayTrip);
        }
    }

    static Finding Of(DockPicture picture, OutletRisk outlet, double margin, bool mayTrip) => new(
        new Place(picture.Dock.Name, null, outlet.Pedestal, outlet.Outlet.Name, outlet.Outlet.Slip),
        margin,
        Priorities.Of(Consequence.Damage, mayTrip ? 10 : 60),
        Audience.Everybody,
        () => Describe(picture, outlet, mayTrip),
        AtOnce: mayTrip);

    static Description Describe(DockPicture picture, OutletRisk outlet, bool mayTrip)
    {
        var (amps, trip) = (outlet.Trip.Amps, outlet.Trip);
        var less = Math.Max(1, amps - outlet.ContinuousAmps);
        var where = Invariant($"Outlet {outlet.Outlet.Name} of pedestal {outlet.Pedestal} carries {amps:0.0} A on {outlet.Leg}");
        var limit = mayTrip
            ? Invariant($"; its breaker is rated {outlet.Outlet.RatingAmps:0} A and {When(trip)}. Switch off about {less:0} A now.")
            : Invariant($"; for hours it should carry no more than {outlet.ContinuousAmps:0.#} A. Switch off about {less:0} A.");
        return new(where + limit + Sag(picture, outlet), new JsonObject
        {
            ["amps"] = Math.Round(amps, 2),
            ["limit"] = Math.Round(outlet.ContinuousAmps, 2),
            ["rating"] = outlet.Outlet.RatingAmps,
            ["leg"] = outlet.Leg.ToString(),
            ["volts"] = Math.Round(outlet.Volts, 2),
            ["trips-in-minutes"] = trip.Opens is { } opens
                ? new JsonArray(Math.Round(opens.EarliestMinutes), Math.Round(opens.LatestMinutes)) : null,
            ["chance-within-15-minutes"] = Math.Round(trip.Present.Within15Minutes, 2),
            ["chance-within-60-minutes"] = Math.Round(trip.Present.Within60Minutes, 2),
            ["forecast-amps"] = Math.Round(trip.ForecastAmps, 2),
            ["forecast-chance-within-15-minutes"] = Math.Round(trip.Forecast.Within15Minutes, 2),
            ["forecast-chance-within-60-minutes"] = Math.Round(trip.Forecast.Within60Minutes, 2),
            ["busier-chance-within-60-minutes"] = Math.Round(trip.Busier.Within60Minutes, 2),
            ["sag-amps"] = Math.Round(outlet.SagAmps, 2),
            ["amps-one-volt-lower"] = Math.Round(outlet.AmpsOneVoltLower, 2),
            ["response"] = Math.Round(outlet.Response.Exponent, 2),
            ["response-sd"] = Math.Round(outlet.Response.Sd, 2),
        });
    }

    static string When(TripOutlook trip)
    {
        var opens = trip.Opens!.Value;
        var (earliest, latest) = (Math.Round(opens.EarliestMinutes), Math.Round(opens.LatestMinutes));
        var chance = Math.Clamp(Math.Round(10 * Math.Max(trip.Present.Within60Minutes, trip.Forecast.Within60Minutes)), 1, 9);
        return trip.OnlyIfBusier ? "may open as soon as one more appliance is switched on"
            : latest < 1 ? "may open any moment"
            : Invariant($"may open in {earliest:0} to {latest:0} minutes (the chance is about {chance:0} in 10 within the hour)");
    }

    static string Sag(DockPicture picture, OutletRisk outlet)
    {
        var nominalVolts = picture.Site.Supply.NominalVolts;
        return outlet.SagAmps < 0.1 || outlet.Volts > 0.99 * nominalVolts ? "" : Invariant(
            $" {outlet.SagAmps:0.0} A of it is there only because the dock has sagged to {outlet.Volts:0.0} V from {nominalVolts:0} V; one volt less makes it {outlet.AmpsOneVoltLower:0.0} A.");
    }
}
