using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rates;
using static System.FormattableString;

namespace Farberth.Service.Views;

/// <summary>How many alarms people get, for the page, the terminal and the end of a replay.</summary>
public static class RateWords
{
    public static RatesShown Shown(SiteView view)
    {
        var rates = view.Rates;
        var isFlood = view.Docks.Values.Any(step => step.Flow.Flooded != Audience.None);
        return new(
            Now(rates), isFlood, [.. rates.Loads.Select(Load)], rates.Raised,
            rates.Priorities.ToDictionary(pair => pair.Key.ToString().ToLowerInvariant(), pair => pair.Value),
            rates.Kinds.ToDictionary(pair => pair.Key.Word(), pair => pair.Value),
            rates.Top.ToDictionary(pair => pair.Key, pair => pair.Value), Math.Round(rates.TopShare, 3), rates.Chattering, rates.Stale);
    }

    /// <summary>One sentence about now.</summary>
    public static string Now(AlarmRates rates) => rates.Loads.Count == 0 ? "" : string.Join("; ", rates.Loads.Select(load =>
            Invariant($"{Word(load.For)} {load.In10Minutes} new in 10 min, {load.InHour} in an hour")))
        + Invariant($" (good: about {6 * AlarmGuidance.PerPeriod:0} in an hour)")
        + (rates.Chattering > 0 ? Invariant($"; {rates.Chattering} come again and again") : "")
        + (rates.Stale > 0 ? Invariant($"; {rates.Stale} have stood for more than a day") : "");

    /// <summary>Some lines about all of it, against what is held good.</summary>
    public static IEnumerable<string> Whole(AlarmRates rates)
    {
        if (rates.Raised == 0)
            yield break;
        foreach (var load in rates.Loads)
            yield return Invariant($"alarms for the {Word(load.For)}: {load.PerPeriod:0.00} in 10 minutes (acceptable {AlarmGuidance.PerPeriod:0}, manageable {AlarmGuidance.MostPerPeriod:0}), at most {load.Busiest}; more than {AlarmGuidance.Flood} in {100 * load.FloodShare:0.0} % of the periods (good: below {100 * AlarmGuidance.FloodShare:0} %)");
        yield return Invariant($"priorities: {100 * rates.PriorityShare(Priority.High):0} % high, {100 * rates.PriorityShare(Priority.Medium):0} % medium, {100 * rates.PriorityShare(Priority.Low):0} % low (good: 5, 15, 80)");
        yield return Invariant($"the ten most frequent make {100 * rates.TopShare:0} %; {rates.Chattered} chattered, {rates.Stale} stale; ")
            + (rates.MeetsGuidance ? "rates within the guidance of ISA-18.2 (from memory)" : "rates beyond the guidance of ISA-18.2 (from memory)");
    }

    static LoadShown Load(AlarmLoad load) => new(
        Word(load.For), load.In10Minutes, load.InHour, load.InDay, Math.Round(load.PerPeriod, 2), Math.Round(load.FloodShare, 4), load.Busiest);

    static string Word(Audience one) => one.ToString().ToLowerInvariant();
}
