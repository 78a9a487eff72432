using Farberth.Monitoring.Site;
using Farberth.Planning.Balancing;
using Farberth.Planning.Replays;
using Farberth.Planning.Survey;
using Farberth.Service;
using static System.FormattableString;

namespace Farberth.Cli.Studying;

/// <summary>A recorded study for people, at most 100 columns wide.</summary>
static class RecordedText
{
    public static IEnumerable<string> Lines(SiteDefinition site, IReadOnlyList<RecordedDock> docks) =>
    [
        $"Site {site.Name}, {site.Supply.Name}: what was recorded",
        .. docks.SelectMany(dock => Dock(site, dock)),
        "",
        .. Paragraph.Lines("This prepares the decision of a licensed person, who has the code's own text, the local rules and the site before "
            + "them; it is no such decision. Legs are moved, and cables changed, by licensed people on a dead feeder."),
        Caution.Text,
    ];

    static IEnumerable<string> Dock(SiteDefinition site, RecordedDock dock) =>
    [
        "",
        $"Dock {dock.Dock.Name}",
        .. dock.Survey is { } survey ? Survey(site, survey) : ["  no quarter-hour of the recording knows the whole dock: nothing to survey"],
        .. dock.Balance is { } balance ? Balance(balance) : [],
        .. dock.WhatIf is { } whatIf ? WhatIf(site, whatIf) : [],
    ];

    static IEnumerable<string> Survey(SiteDefinition site, LoadSurvey survey) =>
    [
        Invariant($"  load survey, {survey.First:yyyy-MM-dd HH:mm} to {survey.Last:yyyy-MM-dd HH:mm} UTC: {survey.Days:0.#} days, {survey.CoveredShare * 100:0.#} % of them covered"),
        "",
        "                                                        kVA    A a leg",
        Invariant($"  highest quarter-hour, measured                    {survey.MaximumVoltAmperes / 1000,9:0.0} {survey.MaximumAmps,10:0}   {survey.MaximumLeg}, {At(site, survey.MaximumAt)}"),
        Invariant($"  times 125 % (NEC 220.87)                          {survey.DemandVoltAmperes / 1000,9:0.0} {LoadSurvey.Factor * survey.MaximumAmps,10:0}"),
        Invariant($"  demand table (NEC 555.6), {survey.Table.Receptacles,3} receptacles at {survey.Table.Share * survey.Table.MeterShare * 100,3:0} %  {survey.Table.VoltAmperes / 1000,9:0.0} {survey.Table.AmpsPerLeg,10:0}"),
        "",
        .. survey.Limits.Select(limit => Invariant($"  125 % of the measured takes {limit.UsedShare * 100:0} % of what the {limit.What} carries ({Carries(limit)})")),
        .. Paragraph.Lines("IEC 60364-7-709 prints no such factors; diversity is the designer's there, by the national annex (from memory).", "  "),
        .. survey.NotCovered.SelectMany(gap => Paragraph.Lines("not covered: " + gap, "  ")),
    ];

    static string Carries(SurveyLimit limit) => limit.What == "transformer" ? Invariant($"{limit.Carries / 1000:0.#} kVA") : Invariant($"{limit.Carries:0} A");

    static IEnumerable<string> Balance(LegBalance balance)
    {
        yield return "";
        yield return "  balancing over the record           lowest V  neutral A, mean  most  imbalance  lost kWh";
        yield return Row("as it is", balance.Before);
        foreach (var step in balance.Steps)
            yield return Row(step == balance.Advised ? $"{step.Moves.Count} moved (advised)" : $"{step.Moves.Count} moved", step.After);
        var words = balance.Advised is { } advised ? $"move {string.Join(", ", advised.Moves)}" : "no move is worth it";
        if (balance.Advised?.Moves.Any(move => move.From.Count > 1) == true)
            words += "; legs are named line by line: L1+L2 to L2+L1 means that the two change places";
        foreach (var line in Paragraph.Lines(words, "  "))
            yield return line;
    }

    static string Row(string name, BalanceOverTime at) => Invariant(
        $"  {Paragraph.Fit(name, 34)} {at.LowestVolts,9:0.0} {at.MeanNeutralAmps,16:0.0} {at.MostNeutralAmps,5:0} {at.MeanImbalanceShare * 100,9:0.0} % {at.LossKilowattHours,8:0.0}");

    static IEnumerable<string> WhatIf(SiteDefinition site, WhatIfResult whatIf) =>
    [
        "",
        .. Paragraph.Lines($"what if: {string.Join("; ", whatIf.Changes.Select(ChangeText.Words))}", "  "),
        .. whatIf.Changes.OfType<MoreBoats>().Sum(boats => boats.Count) is > 0 and var wanted && whatIf.BoatsPlaced < wanted
            ? [$"  only {whatIf.BoatsPlaced} of the {wanted} boats found an outlet that drew nothing"] : Array.Empty<string>(),
        "                 lowest V  at           when             below band  overloaded most kVA lost kWh",
        Row(site, "as it was", whatIf.Before),
        Row(site, "if so", whatIf.After),
    ];

    static string Row(SiteDefinition site, string name, DayOutcome day) => Invariant(
        $"  {Paragraph.Fit(name, 14)} {day.LowestVolts,8:0.0}  {Paragraph.Fit($"{day.Pedestal} {day.Leg}", 12)} {At(site, day.When),-16} {day.BelowBandHours,8:0.0} h {day.OverloadHours,9:0.0} h {day.MostVoltAmperes / 1000,8:0.0} {day.LossKilowattHours,8:0.0}");

    static string At(SiteDefinition site, DateTimeOffset time) =>
        Invariant($"{TimeZoneInfo.ConvertTime(time, TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone)):ddd d MMM HH:mm}");
}
