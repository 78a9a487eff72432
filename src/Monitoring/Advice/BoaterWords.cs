using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Advice;

/// <summary>What a boater reads: what to do, how much that is on a boat, until when, why; and how a cord comes off.</summary>
sealed class BoaterWords(SiteDefinition site)
{
    /// <summary>Stands in every request.</summary>
    const string CordLast = "A cord comes off only after everything on it is switched off.";

    const string LicensedFirst = "Open nothing that is energised; local codes and a licensed electrician come first.";

    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);

    public string Shed(IReadOnlyList<AskedLeg> legs, DateTimeOffset until, string why)
    {
        var amps = legs.Sum(leg => leg.Amps);
        return Invariant($"Please switch off about {amps:0.#} A until {At(until)}: {Appliances.Words(amps, site.Supply.NominalVolts)}. ")
            + $"It is wanted on {string.Join(" and ", legs.Select(leg => Where(leg, legs.Count > 1)))}. {Because(why)} Switch it off at the appliance or at your own panel. {CordLast}";
    }

    public string SecondCord(AskedLeg from, AskedLeg to, DateTimeOffset until, string why) => Invariant(
        $"Please bring out your second cord by {At(until)}: outlet {to.Outlet.Outlet} of pedestal {to.Outlet.Pedestal} is yours too and carries nothing. Move about {from.Amps:0.#} A to it from outlet {from.Outlet.Outlet}; ")
        + $"{Appliances.Words(from.Amps, site.Supply.NominalVolts)}. {Because(why)} Loads off and both breakers off before you plug in; then switch on one load after the other. Without a second inlet on board, switch so much off instead. {CordLast}";

    public static string CheckBreaker(string pedestal) =>
        $"Your boat draws nothing, though pedestal {pedestal} has power. Look at your own main breaker, at the outlet's breaker and at the cord before your batteries run down. "
        + $"If the breaker opens again, leave it open. {CordLast} {LicensedFirst}";

    public static string ShoreLost(string pedestal, string outlet, bool isOpen) =>
        $"Shore power is lost: outlet {outlet} of pedestal {pedestal} {(isOpen ? "has opened its breaker" : "has no volts")}. If you have an inverter, it now runs your outlets from the batteries: switch off what you can, first what heats or cools. "
        + $"Before anybody switches the outlet on again, switch your loads off; if it opens once more, leave it. {CordLast} {LicensedFirst}";

    public static string Unplug(string pedestal, string outlets, string hazard) =>
        $"DANGER: {hazard}. Switch off everything on board, then the breaker of outlet {outlets} at pedestal {pedestal}. Only then take the cord off; leave it in if the plug or the post is hot, wet, damaged or tingles, and tell the harbormaster. "
        + $"Keep everybody out of the water. {CordLast} {LicensedFirst}";

    string At(DateTimeOffset time) => Invariant($"{TimeZoneInfo.ConvertTime(time, zone):HH:mm}");

    string Where(AskedLeg leg, bool withAmps)
    {
        var outlet = site.Docks.Values.Select(dock => dock.Pedestals.GetValueOrDefault(leg.Outlet.Pedestal)).First(found => found != null)!.Outlets[leg.Outlet.Outlet];
        return Invariant($"outlet {leg.Outlet.Outlet} of pedestal {leg.Outlet.Pedestal}") + (outlet is { Legs.Count: > 1, HasNeutral: true } ? $" leg {leg.Leg}" : "")
            + (withAmps ? Invariant($" ({leg.Amps:0.#} A)") : "");
    }

    static string Because(string why) => char.ToUpperInvariant(why[0]) + why[1..] + ".";
}
