using System.Text.Json.Nodes;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Words;

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
        List<Sentence> said =
        [
            mayTrip ? When(outlet, trip) : Sentence.Of(
                "Outlet {0} of pedestal {1} carries {2:0.0} A on {3}; for hours it should carry no more than {4:0.#} A.",
                outlet.Outlet.Name, outlet.Pedestal, amps, outlet.Leg, outlet.ContinuousAmps),
            mayTrip ? Sentence.Of("Switch off about {0:0} A now.", less) : Sentence.Of("Switch off about {0:0} A.", less),
        ];
        if (Sag(picture, outlet) is { } sag)
            said.Add(sag);
        return new(said, new JsonObject
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

    static Sentence When(OutletRisk outlet, TripOutlook trip)
    {
        var opens = trip.Opens!.Value;
        var (earliest, latest) = (Math.Round(opens.EarliestMinutes), Math.Round(opens.LatestMinutes));
        var chance = Math.Clamp(Math.Round(10 * Math.Max(trip.Present.Within60Minutes, trip.Forecast.Within60Minutes)), 1, 9);
        object[] known = [outlet.Outlet.Name, outlet.Pedestal, trip.Amps, outlet.Leg, outlet.Outlet.RatingAmps, earliest, latest, chance];
        return trip.OnlyIfBusier
                ? Sentence.Of("Outlet {0} of pedestal {1} carries {2:0.0} A on {3}; its breaker is rated {4:0} A and may open as soon as one more appliance is switched on.", known[..5])
            : latest < 1
                ? Sentence.Of("Outlet {0} of pedestal {1} carries {2:0.0} A on {3}; its breaker is rated {4:0} A and may open any moment.", known[..5])
            : Sentence.Of("Outlet {0} of pedestal {1} carries {2:0.0} A on {3}; its breaker is rated {4:0} A and may open in {5:0} to {6:0} minutes (the chance is about {7:0} in 10 within the hour).", known);
    }

    static Sentence? Sag(DockPicture picture, OutletRisk outlet)
    {
        var nominalVolts = picture.Site.Supply.NominalVolts;
        return outlet.SagAmps < 0.1 || outlet.Volts > 0.99 * nominalVolts ? null : Sentence.Of(
            "{0:0.0} A of it is there only because the dock has sagged to {1:0.0} V from {2:0} V; one volt less makes it {3:0.0} A.",
            outlet.SagAmps, outlet.Volts, nominalVolts, outlet.AmpsOneVoltLower);
    }
}
