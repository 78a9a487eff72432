using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Service.Views;

namespace Farberth.Service.Api;

/// <summary>A dock in a few numbers.</summary>
/// <param name="Whole">Every pedestal has been heard or given up on; nothing is judged before.</param>
/// <param name="TransformerLoad">Share of the rating; null without a transformer.</param>
/// <param name="LowestVolts">Of any pedestal and leg, as computed; null where nothing is known.</param>
/// <param name="HighestCableLoad">Share of the ampacity.</param>
/// <param name="Standing">Alarms whose condition holds, put aside ones left out.</param>
/// <param name="Unacknowledged">Of them.</param>
public sealed record DockBriefly(
    string Dock, DateTimeOffset At, bool Whole, double Kva, double? TransformerLoad, double? LowestVolts, string? LowestAt, double? HighestCableLoad,
    int Standing, int Unacknowledged)
{
    public static DockBriefly Of(DockStep step, DockShown dock)
    {
        var volts = dock.Pedestals.SelectMany(pedestal => pedestal.Computed.Select(leg => (pedestal.Name, Leg: leg.Key, Volts: leg.Value))).ToList();
        (string Name, string Leg, double Volts)? lowest = volts.Count == 0 ? null : volts.MinBy(one => one.Volts);
        return new(
            dock.Name, step.Now, dock.Whole, dock.Kva, dock.TransformerLoad, lowest?.Volts, lowest is { } at ? $"{at.Name} {at.Leg}" : null,
            dock.Cables.Count == 0 || !double.IsFinite(dock.Cables[0].Load) ? null : dock.Cables[0].Load,
            step.Standing.Count(alarm => alarm.State.IsActive()), step.Standing.Count(alarm => alarm.State == AlarmState.Unacknowledged));
    }
}
