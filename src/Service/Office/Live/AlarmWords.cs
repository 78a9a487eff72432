using Farberth.Service.Views;

namespace Farberth.Service.Office.Live;

/// <summary>Kinds and states of alarms in a person's words; keys of the language files.</summary>
public static class AlarmWords
{
    static readonly IReadOnlyDictionary<string, string> Kinds = new Dictionary<string, string>
    {
        ["overload"] = "Too many amps",
        ["connector-heating"] = "Plug or outlet heating",
        ["undervoltage"] = "Low volts",
        ["overvoltage"] = "High volts",
        ["supply-lost"] = "Power lost",
        ["no-draw"] = "Nothing drawn",
        ["stalled-motor"] = "Motor stalled",
        ["leakage"] = "Current leaking",
        ["open-neutral"] = "Neutral open or failing",
        ["resistive-joint"] = "Bad joint",
        ["cable-overload"] = "Cable or feeder over its limit",
        ["transformer-overload"] = "Transformer over its rating",
        ["leg-imbalance"] = "Legs uneven",
        ["sag-forecast"] = "Sag ahead",
        ["meter-silent"] = "Meter silent",
        ["meter-doubtful"] = "Meter doubtful",
    };

    static readonly IReadOnlyDictionary<string, string> States = new Dictionary<string, string>
    {
        ["unacknowledged"] = "standing, nobody has answered",
        ["acknowledged"] = "standing, somebody knows",
        ["returned-unacknowledged"] = "over, nobody has seen it",
        ["shelved"] = "shelved",
        ["suppressed"] = "consequence of another alarm",
        ["out-of-service"] = "out of service",
        ["normal"] = "over",
    };

    static readonly IReadOnlyDictionary<string, string> Asks = new Dictionary<string, string>
    {
        ["shed"] = "switch off",
        ["second-cord"] = "bring out the second cord",
        ["unplug"] = "loads off, then unplug",
        ["check-breaker"] = "look at the breaker",
        ["shore-lost"] = "told that shore power is lost",
    };

    public static readonly IReadOnlyList<string> Priorities = ["high", "medium", "low"];

    public static IEnumerable<string> All => Kinds.Values.Concat(States.Values).Concat(Asks.Values).Concat(Priorities);

    public static string Kind(string kind) => Kinds.GetValueOrDefault(kind, kind);

    public static string State(string state) => States.GetValueOrDefault(state, state);

    public static string Ask(string ask) => Asks.GetValueOrDefault(ask, ask);

    /// <summary>Where: the narrowest place that people have a name for.</summary>
    public static (string Format, string Name) Place(AlarmShown alarm) =>
        alarm.Slip is { } slip ? ("slip {0}", slip)
        : alarm.Pedestal is { } pedestal ? ("pedestal {0}", pedestal)
        : alarm.Cable is "feeder-breaker" ? ("feeder breaker of dock {0}", alarm.Dock)
        : alarm.Cable is { } cable ? ("cable to {0}", cable)
        : ("dock {0}", alarm.Dock);

    public static bool IsStanding(AlarmShown alarm) => alarm.State is "unacknowledged" or "acknowledged";

    public static bool IsOver(AlarmShown alarm) => alarm.State is "returned-unacknowledged";
}
