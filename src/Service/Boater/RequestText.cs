using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Service.Words;

namespace Farberth.Service.Boater;

/// <summary>Requests and alarms in the reader's language, put together from what is asked; nobody else's name is in them.</summary>
public sealed class RequestText(WordBook words, Writing write, SiteDefinition site)
{
    static readonly IReadOnlyList<AlarmKind> Own =
    [
        AlarmKind.Overload, AlarmKind.Undervoltage, AlarmKind.Overvoltage, AlarmKind.SupplyLost, AlarmKind.NoDraw, AlarmKind.Leakage,
        AlarmKind.StalledMotor, AlarmKind.ConnectorHeating, AlarmKind.OpenNeutral,
    ];

    /// <summary>Alarms on which a boat is to be unplugged.</summary>
    static readonly IReadOnlyList<AlarmKind> Hazards = [AlarmKind.Leakage, AlarmKind.ConnectorHeating, AlarmKind.OpenNeutral];

    /// <summary>One paragraph each; never empty.</summary>
    public IReadOnlyList<string> Request(BoaterAdvice asked) => asked.Ask switch
    {
        Ask.Shed => [words["do.shed", write.Number(asked.Amps, 1), write.Time(asked.Until)], .. asked.Legs.Select(Leg), words[Because(asked)], words["do.at-panel"]],
        Ask.SecondCord => [words["do.second-cord", write.Time(asked.Until), write.Number(asked.Amps, 1)], words["do.second-cord-how"]],
        Ask.Unplug => [words["do.unplug", words[Hazard(asked)]], words["do.unplug-1"], words["do.unplug-2"], words["do.unplug-3"], words["do.unplug-4"]],
        Ask.ShoreLost => [words["do.shore-lost"], words["do.shore-lost-how"], words["do.licensed"]],
        _ => [words["do.check-breaker"], words["do.check-breaker-how"], words["do.licensed"]],
    };

    /// <summary>What an alarm asks of whom it concerns.</summary>
    public string Do(AlarmKind kind) => words[Own.Contains(kind) ? $"do.{kind.Word()}" : "do.other"];

    /// <summary>An alarm in a few words: the outlet is named where it is the slip's own.</summary>
    public string What(Alarm alarm)
    {
        var kind = words[$"kind.{alarm.Kind.Word()}"];
        return alarm.Place is { Slip: not null, Outlet: { } outlet } ? words["past.at", kind, outlet]
            : alarm.Place.Pedestal == null ? words["past.dock", kind] : kind;
    }

    string Leg(AskedLeg leg) => Outlet(leg) is { Legs.Count: > 1, HasNeutral: true }
        ? words["do.shed-leg", leg.Outlet.Outlet, leg.Leg.ToString(), write.Number(leg.Amps, 1)]
        : words["do.shed-outlet", leg.Outlet.Outlet, write.Number(leg.Amps, 1)];

    OutletDefinition? Outlet(AskedLeg leg) => site.Docks.Values.Select(dock => dock.Pedestals.GetValueOrDefault(leg.Outlet.Pedestal))
        .OfType<PedestalDefinition>().FirstOrDefault()?.Outlets.GetValueOrDefault(leg.Outlet.Outlet);

    /// <summary>The limit behind a request begins its reason, with its outlet where it is the outlet's own: see <c>AdviceLimits</c>.</summary>
    static string Because(BoaterAdvice asked) =>
        asked.Legs.Any(leg => asked.Why.StartsWith($"outlet {leg.Outlet.Outlet} of pedestal {leg.Outlet.Pedestal} ", StringComparison.Ordinal))
            ? "do.because-own" : "do.because-dock";

    /// <summary>The alarm behind a request to unplug begins its reason: see <c>AlarmAsks</c>.</summary>
    static string Hazard(BoaterAdvice asked) => AlarmKinds.TryParse(asked.Why.Split(':')[0], out var kind) && Hazards.Contains(kind)
        ? $"hazard.{kind.Word()}" : "hazard.other";
}
