using System.Text.Json.Nodes;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// The contacts of an outlet and its plug pass their limit within an hour, with a chance of one in three, or would
/// with a kettle more, or have passed it. A breaker does not see this: it carries its rating for ever.
/// </summary>
sealed class ConnectorHeating : IAlarmRule
{
    /// <summary>What is asked for leaves this much below the limit.</summary>
    const double Spare = 0.05;

    public AlarmKind Kind => AlarmKind.ConnectorHeating;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        foreach (var outlet in picture.Outlets)
        {
            if (outlet.Contact is not { } contact)
                continue;
            var margin = Math.Max(contact.RiskCelsius, contact.IsMeasured ? contact.Celsius : 0) / contact.LimitCelsius - 1;
            if (margin > 0 || picture.Recalled.At(Kind, outlet.Pedestal))
                yield return Of(picture, outlet, contact, margin);
        }
    }

    static Finding Of(DockPicture picture, OutletRisk outlet, ContactRisk contact, double margin) => new(
        new Place(picture.Dock.Name, null, outlet.Pedestal, outlet.Outlet.Name, outlet.Outlet.Slip),
        margin,
        Priorities.Of(Consequence.Damage, margin > 0 ? MinutesLeft(contact) : ContactRisk.HorizonMinutes),
        Audience.Everybody,
        () => Describe(picture, outlet, contact));

    static int MinutesLeft(ContactRisk contact) => Math.Min(contact.MinutesToLimit ?? ContactRisk.HorizonMinutes, ContactRisk.HorizonMinutes);

    static Description Describe(DockPicture picture, OutletRisk outlet, ContactRisk contact)
    {
        var spare = SecondCord.SpareFor(outlet, picture.Outlets, picture.Site.Limits.DrawingAmps);
        return new(
            [
                State(outlet, contact),
                Outlook(contact),
                Request(outlet, contact, spare),
                Sentence.Of("The cord comes off only after its load is switched off aboard and its breaker at the pedestal."),
                Sentence.Of("A warm or discoloured plug is left alone and shown to a licensed electrician."),
            ],
            Evidence(outlet, contact, spare is null ? null : spare.Outlet.Name + (spare.Pedestal == outlet.Pedestal ? "" : $" of pedestal {spare.Pedestal}")));
    }

    static Sentence State(OutletRisk outlet, ContactRisk contact) => contact.IsMeasured
        ? Sentence.Of("The contacts of outlet {0} of pedestal {1} are at {2:0} °C.", outlet.Outlet.Name, outlet.Pedestal, contact.Celsius)
        : Sentence.Of(
            "The contacts of outlet {0} of pedestal {1} are at about {2:0} °C by its amps and the air, give or take {3:0} °C.",
            outlet.Outlet.Name, outlet.Pedestal, contact.Celsius, contact.Sd);

    static Sentence Outlook(ContactRisk contact) => contact.MinutesToLimit switch
    {
        0 => Sentence.Of("That is over their limit of {0:0} °C.", contact.LimitCelsius),
        { } minutes and <= 2 * ContactRisk.HorizonMinutes => Sentence.Of("They reach {0:0} °C in about {1} min if the amps stay.", contact.LimitCelsius, minutes),
        _ => Sentence.Of("They may pass {0:0} °C within the hour, the more so if they are worn.", contact.LimitCelsius),
    };

    static Sentence Request(OutletRisk outlet, ContactRisk contact, OutletRisk? spare)
    {
        var less = Math.Max(1, contact.RecentAmps - contact.AmpsFor((1 - Spare) * contact.LimitCelsius));
        return spare is null ? Sentence.Of("Switch off at least {0:0} A, for instance one air conditioner.", less)
            : spare.Pedestal == outlet.Pedestal ? Sentence.Of(
                "Switch off at least {0:0} A, for instance one air conditioner, or bring out the second cord: outlet {1} of the same slip carries nothing.", less, spare.Outlet.Name)
            : Sentence.Of(
                "Switch off at least {0:0} A, for instance one air conditioner, or bring out the second cord: outlet {1} of pedestal {2}, of the same slip, carries nothing.",
                less, spare.Outlet.Name, spare.Pedestal);
    }

    static JsonObject Evidence(OutletRisk outlet, ContactRisk contact, string? spareOutlet)
    {
        var evidence = new JsonObject
        {
            ["celsius"] = Math.Round(contact.Celsius, 1),
            ["celsius-sd"] = Math.Round(contact.Sd, 1),
            ["measured"] = contact.IsMeasured,
            ["limit"] = Math.Round(contact.LimitCelsius, 1),
            ["amps"] = Math.Round(outlet.Amps, 2),
            ["recent-amps"] = Math.Round(contact.RecentAmps, 2),
            ["settles-at"] = Math.Round(contact.Outlook.SettlesAtCelsius, 1),
            ["kelvin-per-hour"] = Math.Round(contact.Outlook.TrendPerHour, 1),
            ["cord-celsius"] = Math.Round(contact.JacketCelsius, 1),
            ["wear"] = Math.Round(contact.Outlook.Wear.Factor, 2),
            ["wear-sd"] = Math.Round(contact.Outlook.Wear.FactorSd, 2),
        };
        if (contact.MinutesToLimit is { } minutes)
            evidence["minutes-to-limit"] = minutes;
        if (spareOutlet != null)
            evidence["spare-outlet"] = spareOutlet;
        return evidence;
    }
}
