using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;
using Farberth.Planning.Study;
using Farberth.Service;
using static System.FormattableString;

namespace Farberth.Cli.Studying;

/// <summary>A study for people, at most 100 columns wide.</summary>
static class StudyText
{
    const int MostUpgrades = 12;

    public static IEnumerable<string> Lines(SiteDefinition site, IReadOnlyList<DockReport> reports, double celsius, double? loadPercent) =>
    [
        Invariant($"Site {site.Name}, {site.Supply.Name}, {celsius:0.#} °C outdoors"),
        loadPercent is { } percent ? Invariant($"Loads as stated: every outlet at {percent:0.#} % of its rating")
            : "Loads as stated: every receptacle that counts at its rating times the demand factor",
        .. reports.SelectMany(report => Dock(site, report)),
        "",
        .. Paragraph.Lines("Worked out from the site file: bolted faults without arc or motors, sound joints, equal volts on the legs behind the transformer. "
            + "It explains and compares; sizing, settings and interrupting ratings are a licensed person's work by the local code."),
        Caution.Text,
    ];

    static IEnumerable<string> Dock(SiteDefinition site, DockReport report) =>
        [.. Summary(report), .. Pedestals(site, report.Loaded), .. Hosting(report), .. Upgrades(report)];

    static IEnumerable<string> Summary(DockReport report)
    {
        var (study, demand) = (report.Loaded, report.Demand);
        yield return "";
        yield return Invariant($"Dock {study.Dock.Name}: {study.Flow.SourceVoltAmperes / 1000:0.0} kVA drawn, {study.Flow.LossWatts / 1000:0.00} kW of it lost")
            + Used(study, LimitKind.Transformer, "transformer") + Used(study, LimitKind.FeederBreaker, "feeder breaker");
        if (!study.Flow.Result.Converged)
            yield return $"  {study.Flow.Result}; the volts below are at the share that it can";
        yield return Invariant($"  demand table: {demand.Receptacles} receptacles, {demand.ConnectedVoltAmperes / 1000:0.0} kVA × {demand.Share * demand.MeterShare:0.##} = {demand.VoltAmperes / 1000:0.0} kVA, {demand.AmpsPerLeg:0} A a leg");
    }

    static string Used(DockStudy study, LimitKind kind, string name) =>
        study.Used(kind) is { } used ? Invariant($"; {name} {used * 100:0} % used") : "";

    static IEnumerable<string> Pedestals(SiteDefinition site, DockStudy study)
    {
        var legs = site.Supply.Legs;
        yield return "";
        yield return $"  pedestal     {string.Concat(legs.Select(leg => $"{leg + " V",8}"))}  its cable   fault current, A    opens within, s";
        yield return $"               {new string(' ', 8 * legs.Count)}       used     least      most   outlet   feeder";
        foreach (var fault in study.Faults)
        {
            var (share, conductor) = study.Loading(fault.Pedestal);
            var volts = string.Concat(legs.Select(leg => Invariant($"{study.Flow.State.VoltsAt(fault.Pedestal, leg).Magnitude,8:0.0}")));
            yield return Invariant($"  {Paragraph.Fit(fault.Pedestal, 12)} {volts}  {share * 100,5:0} % {conductor,-2} {fault.LeastAmps,8:0} {fault.MostAmps,9:0} {Seconds(fault.OutletSeconds),8} {Seconds(fault.FeederSeconds),8}");
        }
        var late = study.Faults.Where(fault => fault.OutletSeconds > Faults.FinalSeconds(site.Supply.NominalVolts) || fault.FeederSeconds > Faults.DistributionSeconds).ToList();
        if (late.Count > 0)
            foreach (var line in Paragraph.Lines(Invariant($"At {late.Count} pedestals a breaker may take longer than {Faults.FinalSeconds(site.Supply.NominalVolts)} s (outlet) or {Faults.DistributionSeconds} s (feeder) for the least fault, the times of IEC 60364-4-41 (from memory): the latest that its standard lets it."), "  "))
                yield return line;
    }

    static string Seconds(double? seconds) => seconds switch
    {
        null => "",
        double.PositiveInfinity => "never",
        < 10 => Invariant($"{seconds:0.0}"),
        _ => Invariant($"{seconds:0}"),
    };

    static IEnumerable<string> Hosting(DockReport report)
    {
        yield return "";
        yield return "  room on the empty dock for             outlets    boats  far end first  what stops the next";
        foreach (var hosting in report.Room)
            yield return Invariant($"  {Paragraph.Fit(Words(hosting), 38)} {hosting.FreeOutlets,7} {hosting.Boats,8} {hosting.BoatsFromFarEnd,14}  {(hosting.First is { } first ? Paragraph.Fit(LimitWords.Name(first), 26).TrimEnd() : "no outlet is left")}");
    }

    static string Words(HostingCapacity hosting) => Invariant($"{hosting.Boat.Cords[0]}, {hosting.Boat.AirConditioners} air conditioner{(hosting.Boat.AirConditioners == 1 ? "" : "s")}");

    static IEnumerable<string> Upgrades(DockReport report)
    {
        var study = report.Loaded;
        yield return "";
        yield return Invariant($"  upgrades, lowest volts now {study.Flow.Lowest.Volts:0.0} at {study.Flow.Lowest.Pedestal} {study.Flow.Lowest.Leg}");
        yield return "                                                     lowest V   gain  saved carries   fault   feeder";
        yield return "  change                                                          V      W more, %  most A  opens s";
        // One second feed is much like the next: the best two say it.
        var feeds = report.Upgrades.Where(effect => effect.Upgrade.What.StartsWith("second feed", StringComparison.Ordinal)).Skip(2).ToList();
        var shown = report.Upgrades.Except(feeds).Take(MostUpgrades).ToList();
        foreach (var effect in shown)
            yield return Invariant($"  {Paragraph.Fit(effect.Upgrade.What, 50)} {effect.LowestVolts,8:0.0} {effect.GainVolts,6:+0.00;-0.00;0.00} {effect.SavedWatts,6:0} {effect.MoreShare * 100,7:0} {effect.Faults.Max(fault => fault.MostAmps),7:0} {Seconds(effect.Faults.Max(fault => fault.FeederSeconds)),8}");
        if (report.Upgrades.Count > shown.Count)
            yield return $"  and {report.Upgrades.Count - shown.Count} more; --json has them all";
    }
}
