using System.Text.Json.Nodes;
using Farberth.Monitoring.Risk;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// An outlet carries more than it may for hours; above its rating at once. In a sagging dock it says how much of the
/// amps the missing volts have brought, and what another volt would bring.
/// </summary>
sealed class Overload : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.Overload;

    public IEnumerable<Finding> Judge(DockPicture picture) => picture.Outlets.Select(outlet =>
    {
        var isAboveRating = outlet.Amps > outlet.Outlet.RatingAmps;
        return new Finding(
            new Place(picture.Dock.Name, null, outlet.Pedestal, outlet.Outlet.Name, outlet.Outlet.Slip),
            outlet.Amps / outlet.ContinuousAmps - 1,
            isAboveRating ? Priority.High : Priority.Medium,
            Audience.Everybody,
            () => Describe(picture, outlet),
            AtOnce: isAboveRating);
    });

    static Description Describe(DockPicture picture, OutletRisk outlet)
    {
        var rating = outlet.Outlet.RatingAmps;
        var where = Invariant($"Outlet {outlet.Outlet.Name} of pedestal {outlet.Pedestal} carries {outlet.Amps:0.0} A on {outlet.Leg}");
        var limit = outlet.Amps > rating
            ? Invariant($"; its breaker is rated {rating:0} A and may trip. Switch off about {-outlet.HeadroomAmps:0} A now.")
            : Invariant($"; for hours it should carry no more than {outlet.ContinuousAmps:0.#} A. Switch off about {Math.Max(1, -outlet.HeadroomAmps):0} A.");
        return new(where + limit + Sag(picture, outlet), new JsonObject
        {
            ["amps"] = Math.Round(outlet.Amps, 2),
            ["limit"] = Math.Round(outlet.ContinuousAmps, 2),
            ["rating"] = rating,
            ["leg"] = outlet.Leg.ToString(),
            ["volts"] = Math.Round(outlet.Volts, 2),
            ["sag-amps"] = Math.Round(outlet.SagAmps, 2),
            ["amps-one-volt-lower"] = Math.Round(outlet.AmpsOneVoltLower, 2),
            ["response"] = Math.Round(outlet.Response.Exponent, 2),
            ["response-sd"] = Math.Round(outlet.Response.Sd, 2),
        });
    }

    static string Sag(DockPicture picture, OutletRisk outlet)
    {
        var nominalVolts = picture.Site.Supply.NominalVolts;
        return outlet.SagAmps < 0.1 || outlet.Volts > 0.99 * nominalVolts ? "" : Invariant(
            $" {outlet.SagAmps:0.0} A of it is there only because the dock has sagged to {outlet.Volts:0.0} V from {nominalVolts:0} V; one volt less makes it {outlet.AmpsOneVoltLower:0.0} A.");
    }
}
