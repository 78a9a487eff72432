using Farberth.Grid.Network;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Words;

namespace Farberth.Service.Views;

/// <summary>From a view to what the API gives: rounded, sorted, and with names in place of references.</summary>
public sealed class Showing(SiteDefinition site)
{
    const int MostChanges = 12;

    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);
    readonly Dictionary<string, DockDistances> distances =
        site.Docks.Values.ToDictionary(dock => dock.Name, dock => new DockDistances(dock));

    /// <summary>The marina's own time.</summary>
    public DateTimeOffset Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone);

    /// <summary>The moment at which the marina's clocks show this.</summary>
    public DateTimeOffset FromLocal(DateTime local) => new(DateTime.SpecifyKind(local, DateTimeKind.Unspecified), zone.GetUtcOffset(local));

    public SiteShown Site(SiteView view)
    {
        var bands = site.Limits.Volts;
        return new(
            site.Name, site.Supply.Name, view.Now, view.Now is { } now ? $"{Local(now):ddd d MMM yyyy HH:mm:ss}" : "", site.Supply.NominalVolts,
            new(bands.LowA, bands.LowB, bands.HighA, bands.HighB),
            new(view.Link.Phase.ToString().ToLowerInvariant(), view.Link.Reason, view.Counts.Received, view.Counts.Published,
                view.Counts.Overruns, view.Counts.Lost, view.ToPublish),
            view.Refusals.Values.Sum(tally => tally.Count),
            [.. view.Docks.Values.Select(step => Dock(step, view.Heard))],
            [.. view.Standing.Select(Alarm)],
            [.. view.History.Since(view.History.Count - MostChanges).Reverse().Select(Change)],
            Caution.Text)
        {
            Rates = RateWords.Shown(view),
            Store = new(view.Intake.Problem, view.Intake.Since, view.Intake.Held, view.Intake.Bytes, view.Intake.Unread, view.Intake.Lost),
        };
    }

    public static IReadOnlyList<RefusalShown> Refusals(SiteView view) =>
    [
        .. view.Refusals.Select(pair => new RefusalShown(
            pair.Key.Word(), pair.Value.Count, pair.Value.Last.At, pair.Value.Last.Topic, pair.Value.Last.Detail,
            System.Text.Encoding.UTF8.GetString(pair.Value.Last.Excerpt.Span))),
    ];

    /// <param name="heard">What pedestals have said since the step.</param>
    public DockShown Dock(DockStep step, IReadOnlyDictionary<string, Reading>? heard = null)
    {
        var (dock, estimate) = (step.Picture.Dock, step.Picture.Estimate);
        var along = distances[dock.Name];
        return new(
            dock.Name, step.Picture.Image.IsWhole, estimate.Status.ToString().ToLowerInvariant(), Map(estimate.SourceVolts, 2), Map(estimate.SourceAmps, 1),
            Math.Round(estimate.SourceKilovoltAmperes, 1), Round(estimate.TransformerLoad, 3), dock.FeederBreakerAmps,
            Math.Round(estimate.RacewayCelsius, 1),
            [.. along.Runs.SelectMany((run, at) => run.Select(name => Pedestal(step, along, name, at, heard?.GetValueOrDefault(name))))],
            [.. dock.Cables.Select(cable => Cable(cable, estimate.Cables[cable.To])).OrderByDescending(cable => cable.Load)],
            [.. Worst(step).Select(risk => Outlet(step, risk))],
            [.. FreeSlips.Of(step).Select(risk => Outlet(step, risk))],
            [.. step.Advice.Standing.OrderByDescending(advice => advice.Time).ThenBy(advice => AsCounted.Key(advice.Slip), StringComparer.Ordinal).Select(Advice)],
            [.. step.Advice.NotEnough.Select(one => one.Limit)])
        {
            Joints = [.. step.Picture.Learned.Joints.OrderByDescending(joint => joint.WattsWorst).Select(Joint)],
            Meters = [.. Doubts(step)],
            Ahead = [.. step.Picture.Forecast?.Hours.Select(Ahead) ?? []],
            Sag = step.Picture.Forecast?.Sag is { } sag ? new(Math.Round(sag.BelowA, 2), Math.Round(sag.BelowB, 2), sag.Worst is { } worst ? Ahead(worst) : null) : null,
            Transformer = step.Picture.Transformer is { } inside
                ? new(Math.Round(inside.HotSpotCelsius), Math.Round(inside.SettlesAtCelsius), Math.Round(inside.AgeingOfDay, 2)) : null,
            Unobserved = [.. estimate.Unobserved.Select(one => one.Pedestal)],
        };
    }

    static JointShown Joint(CableJoint joint) => new(
        joint.Inner, joint.Outer, joint.Conductor.ToString(), Math.Round(1000 * joint.ExcessOhms, 1), Math.Round(1000 * joint.ExcessOhmsSd, 1),
        Math.Round(joint.WattsNow, 1), Math.Round(joint.WattsWorst, 1), joint.Since, [.. joint.OrElse.Select(leg => leg.ToString())]);

    static IEnumerable<MeterShown> Doubts(DockStep step) =>
        step.Picture.Estimate.Doubtful.Select(reading => new MeterShown(reading.Bus, reading.Leg.ToString(), null, null))
            .Concat(step.Picture.Learned.Gains.Where(gain => gain.Value.IsBeyondClass).Select(gain => new MeterShown(
                gain.Key.Pedestal, gain.Key.Leg.ToString(), Math.Round(100 * gain.Value.Share, 2), Math.Round(100 * gain.Value.Sd, 2))));

    static AheadShown Ahead(DockAhead ahead) => new(
        ahead.Until, ahead.MinutesAhead, ahead.Pedestal, ahead.Leg.ToString(), Math.Round(ahead.Volts.Values[0], 1), Math.Round(ahead.Volts.Median, 1),
        Math.Round(ahead.Volts.Values[^1], 1), Math.Round(ahead.KilovoltAmperes.Median, 1));

    AdviceShown Advice(BoaterAdvice advice) => new(
        advice.Slip, advice.Ask.Word(), advice.Amps, $"{Local(advice.Time):HH:mm}", $"{Local(advice.Until):HH:mm}", advice.Message, advice.Why);

    /// <summary>Every outlet that has been heard, the nearest to its limit first.</summary>
    public static IEnumerable<OutletRisk> Worst(DockStep step) =>
        step.Picture.Outlets.OrderByDescending(risk => risk.Amps / risk.ContinuousAmps);

    static PedestalShown Pedestal(DockStep step, DockDistances along, string name, int run, Reading? heard)
    {
        var (image, estimate) = (step.Picture.Image.Pedestals[name], step.Picture.Estimate.Pedestals[name]);
        return new(
            name, along.Before(name), run, Math.Round(along.Metres(name), 1), image.IsFresh, Math.Round(image.SilentFor.TotalSeconds),
            Map((heard ?? image.Latest)?.Volts ?? PerLeg.None, 2), Map(estimate.Volts, 2), Map(estimate.VoltsSd, 3), Map(estimate.Amps, 1));
    }

    static CableShown Cable(CableDefinition cable, CableEstimate estimate) => new(
        cable.From, cable.To, cable.Sets > 1 ? $"{cable.Sets} × {cable.Conductor}" : cable.Conductor.ToString(), Math.Round(cable.LengthMetres, 1),
        Math.Round(estimate.Load, 3), Math.Round(estimate.AmpacityAmps), Math.Round(estimate.ConductorCelsius), Map(estimate.Amps, 1),
        Map(estimate.DropVolts, 2));

    static OutletShown Outlet(DockStep step, OutletRisk risk) => new(
        risk.Pedestal, risk.Outlet.Name, risk.Outlet.Slip, risk.Leg.ToString(), risk.Outlet.RatingAmps, Math.Round(risk.Amps, 1),
        Math.Round(risk.ContinuousAmps, 1), Math.Round(risk.HeadroomAmps, 1), Math.Round(risk.Volts, 1), Math.Round(risk.SagAmps, 1),
        Math.Round(risk.AmpsOneVoltLower, 1), step.Picture.Image.Pedestals[risk.Pedestal].IsFresh);

    public AlarmShown Alarm(Alarm alarm) => new(
        alarm.Id, alarm.Kind.Word(), alarm.State.Word(), alarm.Priority.ToString().ToLowerInvariant(), alarm.Since, $"{Local(alarm.Since):HH:mm:ss}",
        alarm.Place.Dock, alarm.Place.Cable, alarm.Place.Pedestal, alarm.Place.Outlet, alarm.Place.Slip,
        [.. new[] { Audience.Electrician, Audience.Harbormaster, Audience.Boater }.Where(one => alarm.For.HasFlag(one)).Select(one => one.ToString().ToLowerInvariant())],
        alarm.Message)
    {
        Said = alarm.Said,
        SetAside = alarm.SetAside is { } aside ? $"{Aside(aside)}" : null,
        Aside = alarm.SetAside is { } put ? Aside(put) : null,
        SuppressedBy = alarm.SuppressedBy,
        FirstUp = alarm.FirstUp,
        HeldBack = alarm.HeldBackFrom != Audience.None,
        Chattering = alarm.Chattering,
        Caution = Cautions.Of(alarm.Kind),
    };

    ChangeShown Change(AlarmTransition transition) => new(
        $"{Local(transition.At):HH:mm:ss}", transition.Alarm.Id, transition.Alarm.Kind.Word(), transition.From.Word(),
        transition.Alarm.State.Word(), transition.Reason)
    {
        Why = transition.Why,
    };

    Sentence Aside(SetAside aside) => aside.Until is { } until
        ? Sentence.Of("by {0} until {1} ({2})", aside.By, new Moment(until, $"{Local(until):HH:mm}"), aside.Reason)
        : Sentence.Of("by {0} ({1})", aside.By, aside.Reason);

    static Dictionary<string, double> Map(PerLeg values, int decimals) =>
        values.Legs.Where(leg => double.IsFinite(values[leg])).ToDictionary(leg => leg.ToString(), leg => Math.Round(values[leg], decimals));

    static double? Round(double? value, int decimals) => value is { } number && double.IsFinite(number) ? Math.Round(number, decimals) : null;
}
