using Farberth.Grid.Conductors;
using Farberth.Monitoring.Site;
using Farberth.Planning.Study;
using Farberth.Service;
using static System.FormattableString;

namespace Farberth.Cli.Checking;

/// <summary>A good site file in words and tables, at most 100 columns wide.</summary>
static class SiteSummary
{
    const double MetresPerFoot = 0.3048;

    public static IEnumerable<string> Lines(SiteDefinition site) =>
    [
        $"Site {site.Name}, {site.TimeZone}, {site.Supply.Name}",
        Invariant($"Bands at the pedestal: A {site.Limits.Volts.LowA:0.#} to {site.Limits.Volts.HighA:0.#} V, B {site.Limits.Volts.LowB:0.#} to {site.Limits.Volts.HighB:0.#} V;")
            + Invariant($" for hours at most {site.Limits.ContinuousShare * 100:0.#} % of a rating"),
        .. site.Docks.Values.SelectMany(dock => Dock(site, dock)),
        .. Sources(site),
        "",
        "Fault currents are bolted faults worked out from the site file: no arc, no motors on board.",
        Caution.Text,
    ];

    static IEnumerable<string> Dock(SiteDefinition site, DockDefinition dock)
    {
        var faults = PedestalFaults.Of(site, dock);
        var outlets = dock.Pedestals.Values.Sum(pedestal => pedestal.Outlets.Count);
        var allMetres = dock.Cables.Sum(cable => cable.LengthMetres);
        yield return "";
        yield return $"Dock {dock.Name}: {dock.Pedestals.Count} pedestals, {outlets} outlets";
        yield return $"  Source: {Source(dock.Source)}";
        yield return Invariant($"  Feeder: {dock.Cables.Count} cables, {Length(allMetres)} in all, the furthest pedestal at {Length(faults.Max(f => f.Metres))}")
            + (dock.FeederBreakerAmps is { } amps ? Invariant($"; breaker {amps:0} A") : "; no breaker stated");
        yield return "";
        yield return "                                                                  loop    fault current, A";
        yield return "  pedestal          from source  its cable                 outlets    mohm     least      most";
        foreach (var line in faults)
            yield return Row(dock, line);
        yield return Invariant($"  loop and least: conductors at {Faults.HotCelsius} °C, leg to neutral; most: at {Faults.ColdCelsius} °C, the worst kind of fault");
    }

    static string Row(DockDefinition dock, PedestalFaults at)
    {
        var outlets = dock.Pedestals[at.Fault.Pedestal].Outlets.Count;
        var cable = at.Cable.Sets > 1 ? $"{at.Cable.Sets} × {at.Cable.Conductor}" : at.Cable.Conductor.ToString();
        return Invariant($"  {Paragraph.Fit(at.Fault.Pedestal, 12)} {Length(at.Metres),16}  {Paragraph.Fit(cable, 24)} {outlets,8} {at.Fault.LoopOhms.Magnitude * 1000,7:0.0} {at.Fault.LeastAmps,9:0} {at.Fault.MostAmps,9:0}");
    }

    static string Source(SourceDefinition source) => Invariant($"{source.NoLoadVolts:0.#} V at no load, ") + source switch
    {
        { Transformer: { } t } => Invariant(
            $"transformer {t.RatingVoltAmperes / 1000:0.#} kVA, {t.ImpedanceShare * 100:0.##} %, x/r {t.ReactanceToResistance:0.##}"),
        { FaultAmps: { } amps } => Invariant($"service with {amps:0} A of fault current, x/r {source.ReactanceToResistance:0.##}"),
        _ => "taken as stiff: no transformer and no fault current are stated",
    };

    static string Length(double metres) => Invariant($"{metres:0} m ({metres / MetresPerFoot:0} ft)");

    /// <summary>Where the numbers of the conductors come from, and which of them no table prints.</summary>
    static IEnumerable<string> Sources(SiteDefinition site)
    {
        var cables = site.Docks.Values.SelectMany(dock => dock.Cables).ToList();
        yield return "";
        yield return "Conductor tables";
        var origins = cables.SelectMany(cable => new[] { cable.Conductor, cable.Neutral }).Distinct().SelectMany(conductor => conductor.Origins);
        foreach (var (table, marks) in origins.GroupBy(origin => origin.Table).Select(g => (g.Key, g.Select(o => o.Mark).Distinct().Order())))
            yield return $"  {Paragraph.Fit($"{table}: {string.Join(", ", marks.Select(Words))}", 98).TrimEnd()}";
        foreach (var conductor in cables.Where(cable => cable.AmpacityAmps is null && cable.Conductor.AmpacityIsInterpolated).Select(cable => cable.Conductor).Distinct())
            yield return $"  {conductor}: its ampacity is not printed for this size; it is taken between its neighbours by area";
    }

    static string Words(Mark mark) => mark switch
    {
        Mark.Confirmed => "read in a copy of the table",
        Mark.FromMemory => "from memory, look it up before relying on it",
        _ => "taken between neighbours",
    };
}
