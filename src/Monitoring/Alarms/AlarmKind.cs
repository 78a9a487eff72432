namespace Farberth.Monitoring.Alarms;

/// <summary>What an alarm is about; on the wire the same words in lower case with hyphens.</summary>
public enum AlarmKind
{
    Overload,
    Undervoltage,
    Overvoltage,
    SupplyLost,
    NoDraw,
    CableOverload,
    TransformerOverload,
    LegImbalance,
    MeterSilent,
    OpenNeutral,
    StalledMotor,
    Leakage,
    MeterDoubtful,
    ResistiveJoint,
    ConnectorHeating,
    SagForecast,
}

/// <summary>The words for alarm kinds on the wire and in site files.</summary>
public static class AlarmKinds
{
    static readonly (AlarmKind Kind, string Word)[] Pairs =
    [
        (AlarmKind.Overload, "overload"),
        (AlarmKind.Undervoltage, "undervoltage"),
        (AlarmKind.Overvoltage, "overvoltage"),
        (AlarmKind.SupplyLost, "supply-lost"),
        (AlarmKind.NoDraw, "no-draw"),
        (AlarmKind.CableOverload, "cable-overload"),
        (AlarmKind.TransformerOverload, "transformer-overload"),
        (AlarmKind.LegImbalance, "leg-imbalance"),
        (AlarmKind.MeterSilent, "meter-silent"),
        (AlarmKind.OpenNeutral, "open-neutral"),
        (AlarmKind.StalledMotor, "stalled-motor"),
        (AlarmKind.Leakage, "leakage"),
        (AlarmKind.MeterDoubtful, "meter-doubtful"),
        (AlarmKind.ResistiveJoint, "resistive-joint"),
        (AlarmKind.ConnectorHeating, "connector-heating"),
        (AlarmKind.SagForecast, "sag-forecast"),
    ];

    /// <summary>Every word, in the order of the kinds.</summary>
    public static IReadOnlyList<string> Words { get; } = [.. Pairs.Select(pair => pair.Word)];

    /// <summary>The word of a kind, as supply-lost.</summary>
    public static string Word(this AlarmKind kind) => Pairs[(int)kind].Word;

    /// <summary>The kind that a word names; the case counts.</summary>
    public static bool TryParse(string word, out AlarmKind kind)
    {
        foreach (var pair in Pairs)
        {
            if (pair.Word == word)
            {
                kind = pair.Kind;
                return true;
            }
        }
        kind = default;
        return false;
    }
}
