using System.Text.Json.Nodes;
using Farberth.Monitoring.Risk;
using static System.FormattableString;

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
        var spare = SecondCord.SpareFor(outlet, picture.Outlets, picture.Site.Limits.DrawingAmps) is { } other
            ? other.Outlet.Name + (other.Pedestal == outlet.Pedestal ? "" : $" of pedestal {other.Pedestal}") : null;
        return new(
            Invariant($"The contacts of outlet {outlet.Outlet.Name} of pedestal {outlet.Pedestal} {State(contact)}. {Request(contact, spare)} ")
                + "The cord comes off only after its load is switched off aboard and its breaker at the pedestal. "
                + "A warm or discoloured plug is left alone and shown to a licensed electrician.",
            Evidence(outlet, contact, spare));
    }

    static string State(ContactRisk contact)
    {
        var now = contact.IsMeasured
            ? Invariant($"are at {contact.Celsius:0} °C")
            : Invariant($"are at about {contact.Celsius:0} °C by its amps and the air, give or take {contact.Sd:0} °C");
        var limit = Invariant($"{contact.LimitCelsius:0} °C");
        return now + (contact.MinutesToLimit switch
        {
            0 => $", over their limit of {limit}",
            { } minutes and <= 2 * ContactRisk.HorizonMinutes => Invariant($" and reach {limit} in about {minutes} min if the amps stay"),
            _ => $", and may pass {limit} within the hour, the more so if they are worn",
        });
    }

    static string Request(ContactRisk contact, string? spareOutlet)
    {
        var less = Math.Max(1, contact.RecentAmps - contact.AmpsFor((1 - Spare) * contact.LimitCelsius));
        var shed = Invariant($"Switch off at least {less:0} A, for instance one air conditioner");
        return spareOutlet is { } spare
            ? $"{shed}, or bring out the second cord: outlet {spare} of the same slip carries nothing."
            : shed + ".";
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
