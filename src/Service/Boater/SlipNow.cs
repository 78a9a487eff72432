using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telling;
using Farberth.Service.Views;

namespace Farberth.Service.Boater;

/// <summary>What one slip's boater may know of one moment: his own outlets, what is asked of him, what concerns his dock as a whole.</summary>
/// <param name="Fault">Why what stands here cannot be relied on; null: it can.</param>
/// <param name="Asked">Null: nothing is asked.</param>
/// <param name="Alarms">Active ones that are for him, the most pressing first.</param>
/// <param name="Sag">Null: no sag is likely.</param>
public sealed record SlipNow(
    string Slip, DateTimeOffset Now, SlipFault? Fault, IReadOnlyList<OutletNow> Outlets, BoaterAdvice? Asked, IReadOnlyList<Alarm> Alarms,
    SagChance? Sag)
{
    /// <summary>The service ticks every second; a view that is older stands still.</summary>
    static readonly TimeSpan Late = TimeSpan.FromSeconds(30);

    public static SlipNow Of(SiteView view, string slip, DateTimeOffset now)
    {
        List<DockStep> docks = [.. view.Docks.Values.Where(step => SlipPlace.Of(step, slip).Outlets.Count > 0)];
        List<OutletNow> outlets = [.. docks.SelectMany(step => SlipPlace.Of(step, slip).Outlets.Select(key => OutletNow.Of(step, key)))];
        return new(
            slip, now, FaultOf(view, docks, outlets, now), outlets,
            docks.SelectMany(step => step.Advice.Standing).Where(advice => advice.Slip == slip).MinBy(advice => advice.Ask),
            [
                .. from step in docks
                   let place = SlipPlace.Of(step, slip)
                   from alarm in step.Standing
                   where alarm.State.IsActive() && place.Concerns(alarm)
                   orderby alarm.Priority descending, alarm.Since
                   select alarm,
            ],
            docks.Where(HasSagAlarm).Select(step => step.Picture.Forecast?.Sag).FirstOrDefault(sag => sag?.Worst != null));
    }

    static SlipFault? FaultOf(SiteView view, List<DockStep> docks, List<OutletNow> outlets, DateTimeOffset now) =>
        view.Now is not { } ticked || !docks.TrueForAll(step => step.Picture.Image.IsWhole) ? SlipFault.Starting
        : now - ticked > Late ? SlipFault.StandsStill
        : outlets.Count == 0 ? SlipFault.NoOutlet
        : view.Link.Phase != LinkPhase.Connected ? SlipFault.NoBroker
        : outlets.Exists(outlet => !outlet.IsFresh) ? SlipFault.MeterSilent
        : null;

    /// <summary>Likely enough for the alarm, which has a rule; nobody judges it a second time here.</summary>
    static bool HasSagAlarm(DockStep step) => step.Standing.Any(alarm => alarm.Kind == AlarmKind.SagForecast && alarm.State.IsActive());
}

/// <summary>Why the page cannot say how the supply is.</summary>
public enum SlipFault
{
    /// <summary>Not every pedestal has been heard or given up on.</summary>
    Starting,

    /// <summary>The monitoring does not go on.</summary>
    StandsStill,

    /// <summary>The site file gives this slip no outlet.</summary>
    NoOutlet,

    /// <summary>No readings arrive at all.</summary>
    NoBroker,

    /// <summary>The slip's own meter has not been heard lately.</summary>
    MeterSilent,
}
