using System.Globalization;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Service.SiteEditing;

/// <summary>All that a site file says, thing by thing, each with its facts in words: what two files differ in can be read off.</summary>
static class SiteFacts
{
    public static IReadOnlyDictionary<string, IReadOnlyDictionary<string, string>> Of(SiteDefinition site)
    {
        var facts = new Dictionary<string, IReadOnlyDictionary<string, string>>
        {
            ["site"] = Known(("name", site.Name), ("time zone", site.TimeZone), ("supply", site.Supply.Name)),
            ["limits"] = Known(
                ("continuous share", Text(site.Limits.ContinuousShare)), ("volts", site.Limits.Volts.ToString()), ("leg imbalance", Text(site.Limits.LegImbalanceShare)),
                ("raceway", Celsius(site.Limits.RacewayCelsius)), ("raceway in the sun", Kelvin(site.Limits.SunRiseKelvin)), ("power factor", Text(site.Limits.PowerFactor)),
                ("drawing", Amps(site.Limits.DrawingAmps)), ("load response", Text(site.Limits.LoadResponse)), ("leakage", site.Limits.Leakage.ToString()),
                ("contacts", site.Limits.Contacts.ToString()), ("breaker", site.Limits.Breaker.ToString())),
            ["advice"] = Known(("repeat", Text(site.Advice.Repeat)), ("patience", Text(site.Advice.Patience)), ("low volts", Volts(site.Advice.LowVolts))),
        };
        foreach (var (kind, timing) in site.AlarmTimings)
            facts[$"alarm {kind.Word()}"] = Known(("raise after", Text(timing.RaiseAfter)), ("clear after", Text(timing.ClearAfter)), ("deadband", Text(timing.Deadband)));
        foreach (var slip in site.Slips.Values)
            facts[$"slip {slip.Name}"] = Known(("length", Metres(slip.LengthMetres)), ("beam", Metres(slip.BeamMetres)), ("depth", Metres(slip.DepthMetres)));
        foreach (var dock in site.Docks.Values)
            Add(facts, dock);
        return facts;
    }

    static void Add(Dictionary<string, IReadOnlyDictionary<string, string>> facts, DockDefinition dock)
    {
        var (source, transformer) = (dock.Source, dock.Source.Transformer);
        facts[$"dock {dock.Name}"] = Known(
            ("no-load volts", Volts(source.NoLoadVolts)), ("fault current", Amps(source.FaultAmps)), ("feeder breaker", Amps(dock.FeederBreakerAmps)),
            ("transformer", transformer is null ? null : Invariant($"{transformer.RatingVoltAmperes / 1000:0.###} kVA")),
            ("transformer impedance", transformer is null ? null : Invariant($"{100 * transformer.ImpedanceShare:0.###} %, x/r {transformer.ReactanceToResistance:0.##}")),
            ("transformer limits", transformer?.Thermal.ToString()));
        foreach (var cable in dock.Cables)
            facts[$"dock {dock.Name}, cable to {cable.To}"] = Known(
                ("from", cable.From), ("length", Metres(cable.LengthMetres)), ("conductor", cable.Conductor.ToString()), ("neutral", cable.Neutral.ToString()),
                ("raceway", cable.Raceway.ToString()), ("sets", Text(cable.Sets)), ("rating", cable.Rating.ToString()), ("ampacity", Amps(cable.AmpacityAmps)));
        foreach (var pedestal in dock.Pedestals.Values)
        {
            facts[$"dock {dock.Name}, pedestal {pedestal.Name}"] = Known();
            foreach (var outlet in pedestal.Outlets.Values)
                facts[$"dock {dock.Name}, outlet {pedestal.Name}.{outlet.Name}"] = Known(
                    ("rating", Amps(outlet.RatingAmps)), ("legs", string.Join("+", outlet.Legs)), ("neutral", outlet.HasNeutral ? "yes" : "no"), ("slip", outlet.Slip),
                    ("breaker", outlet.Breaker?.ToString()));
        }
    }

    static Dictionary<string, string> Known(params (string Fact, string? Value)[] facts) =>
        facts.Where(fact => fact.Value is not null).ToDictionary(fact => fact.Fact, fact => fact.Value!);

    static string? Amps(double? amps) => amps is { } value ? Invariant($"{value:0.###} A") : null;

    static string? Volts(double? volts) => volts is { } value ? Invariant($"{value:0.###} V") : null;

    static string? Metres(double? metres) => metres is { } value ? Invariant($"{value:0.##} m") : null;

    static string Celsius(double celsius) => Invariant($"{celsius:0.#} °C");

    static string Kelvin(double kelvin) => Invariant($"{kelvin:0.#} K");

    static string Text(double number) => number.ToString("0.####", CultureInfo.InvariantCulture);

    static string Text(TimeSpan span) => Invariant($"{span.TotalSeconds:0.#} s");
}
