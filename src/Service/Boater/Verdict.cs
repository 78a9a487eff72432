using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;

namespace Farberth.Service.Boater;

public enum Standing
{
    ActNow,
    BeSparing,

    /// <summary>Nothing bad is known, but not enough is known to say that all is right.</summary>
    Unknown,
    AllRight,
}

/// <summary>Whether the boater's supply is all right, by what the monitor says; this adds no limit of its own.</summary>
/// <param name="Why">The key of the words that say why.</param>
public sealed record Verdict(Standing Standing, string Why)
{
    public static Verdict Of(SlipNow slip) => Pressing(slip) ?? Sparing(slip)
        ?? (slip.Fault is { } fault ? new(Standing.Unknown, $"why.{Key(fault)}") : new(Standing.AllRight, "why.all-right"));

    /// <summary>The word of a fault among the keys.</summary>
    public static string Key(SlipFault fault) => $"fault.{fault}";

    static Verdict? Pressing(SlipNow slip) =>
        slip.Asked is { Ask: Ask.Unplug or Ask.ShoreLost } asked ? new(Standing.ActNow, $"why.{asked.Ask.Word()}")
        : slip.Alarms.FirstOrDefault(alarm => alarm.Priority == Priority.High) is { } alarm ? new(Standing.ActNow, $"kind.{alarm.Kind.Word()}")
        : Believed(slip).Any(outlet => outlet.AmpsLevel == Level.TooHigh) ? new(Standing.ActNow, "why.over-rating")
        : Volts(slip).Contains(Level.None) ? new(Standing.ActNow, "why.no-volts")
        : Volts(slip).Contains(Level.TooLow) ? new(Standing.ActNow, "why.volts-too-low")
        : Volts(slip).Contains(Level.TooHigh) ? new(Standing.ActNow, "why.volts-too-high")
        : null;

    static Verdict? Sparing(SlipNow slip) =>
        slip.Asked is { } asked ? new(Standing.BeSparing, $"why.{asked.Ask.Word()}")
        : slip.Alarms.Count > 0 ? new(Standing.BeSparing, $"kind.{slip.Alarms[0].Kind.Word()}")
        : Believed(slip).Any(outlet => outlet.AmpsLevel == Level.High) ? new(Standing.BeSparing, "why.over-hours")
        : Volts(slip).Contains(Level.Low) ? new(Standing.BeSparing, "why.volts-low")
        : Volts(slip).Contains(Level.High) ? new(Standing.BeSparing, "why.volts-high")
        : null;

    /// <summary>What an outlet said long ago is no reason for anything now.</summary>
    static IEnumerable<OutletNow> Believed(SlipNow slip) => slip.Outlets.Where(outlet => outlet.IsFresh);

    static HashSet<Level> Volts(SlipNow slip) => [.. Believed(slip).SelectMany(outlet => outlet.Volts).Select(leg => leg.Level)];
}
