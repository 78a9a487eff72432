using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Place = Farberth.Monitoring.Alarms.Place;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>
/// Six alarms of the test dock, fed by hand: a dead feeder from B2 on, three of its consequences, and two that have nothing to do with it.
/// After every tick what must always be true is checked.
/// </summary>
sealed class AlarmBookStory
{
    static readonly AlarmTiming Timing = new(TimeSpan.FromSeconds(60), TimeSpan.FromSeconds(30), 0.05);

    /// <summary>An alarm that chatters clears within this at the latest.</summary>
    static readonly TimeSpan SurelyCleared = TimeSpan.FromMinutes(20);

    static readonly (AlarmKind Kind, Place Place)[] Watched =
    [
        (AlarmKind.Undervoltage, new("B", Pedestal: "B2")),
        (AlarmKind.MeterSilent, new("B", Pedestal: "B3")),
        (AlarmKind.SupplyLost, new("B", Pedestal: "B3", Outlet: "A")),
        (AlarmKind.Undervoltage, new("B", Pedestal: "B1")),
        (AlarmKind.Overload, new("B", Pedestal: "B3", Outlet: "A")),
        (AlarmKind.SupplyLost, new("B", Cable: "B2")),
    ];

    public const int Alarms = 6, Consequences = 3, Cause = 5;

    readonly AlarmBook book = new(
        Enum.GetValues<AlarmKind>().ToDictionary(kind => kind, _ => Timing), new DockTree(TestDock.Site.Docks["B"]));

    readonly Dictionary<string, AlarmState> states = [];
    readonly DateTimeOffset[] bareSince = [.. Enumerable.Repeat(DateTimeOffset.MaxValue, Alarms)];
    readonly DateTimeOffset[] goodSince = [.. Enumerable.Repeat(TestDock.Start, Alarms)];

    public DateTimeOffset Now { get; private set; } = TestDock.Start;

    public List<string> Log { get; } = [];

    public IReadOnlyList<Alarm> Standing => book.Standing;

    public static string Id(int alarm) => Watched[alarm].Place.AlarmId(Watched[alarm].Kind);

    /// <param name="margins">Of each alarm: above 0 past, at −0.05 and below back.</param>
    /// <param name="isPending">The dead feeder is only suspected.</param>
    public void Tick(int seconds, double[] margins, Priority priority, bool isPending, params AlarmCommand[] commands)
    {
        Now += TimeSpan.FromSeconds(seconds);
        var findings = Watched.Select((one, i) => new Judged(one.Kind, new(
            one.Place, margins[i], priority, Audience.Everybody, () => new([], []))
        {
            Beyond = i == Cause ? "B2" : null,
            IsPending = i == Cause && isPending,
        })).ToList();
        var step = book.Step(findings, commands, Now);
        foreach (var transition in step.Transitions)
            Follow(transition);
        Assert.True(step.Refused.Count <= commands.Length);
        Assert.Equal(step.Transitions.Select(one => one.At).Distinct().Count(), step.Transitions.Count == 0 ? 0 : 1);
        for (var i = 0; i < Alarms; i++)
            goodSince[i] = margins[i] > -Timing.Deadband || (i == Cause && isPending) ? DateTimeOffset.MaxValue
                : goodSince[i] == DateTimeOffset.MaxValue ? Now : goodSince[i];
        for (var i = 0; i < Alarms; i++)
            Check(i, margins[i]);
    }

    /// <summary>Every step begins where the last one ended, and the diagram knows it.</summary>
    void Follow(AlarmTransition step)
    {
        var before = states.GetValueOrDefault(step.Alarm.Id);
        Assert.Equal(before, step.From);
        Assert.NotEqual("", step.Reason);
        var isKnown = Enum.GetValues<AlarmEvent>().Any(happened => AlarmLifecycle.Next(step.From, happened) == step.Alarm.State);
        Assert.True(isKnown || (step.From.IsActive() && step.Alarm.State.IsActive()), $"{step.From} to {step.Alarm.State}: {step.Reason}");
        states[step.Alarm.Id] = step.Alarm.State;
        Log.Add($"{step.At:O} {step.Alarm.Id} {step.From} {step.Alarm.State} {step.Reason}");
    }

    void Check(int i, double margin)
    {
        var alarm = book.Standing.SingleOrDefault(one => one.Id == Id(i));
        var state = alarm?.State ?? AlarmState.Normal;
        Assert.Equal(states.GetValueOrDefault(Id(i)), state);
        // Never a lost raise: past its limit with nothing in the way for the whole delay, it stands.
        var isBare = margin > 0 && !IsAside(state) && state != AlarmState.Suppressed && (i >= Consequences || IsSurelyGone(Cause));
        bareSince[i] = !isBare ? DateTimeOffset.MaxValue : bareSince[i] == DateTimeOffset.MaxValue ? Now : bareSince[i];
        if (isBare && Now - bareSince[i] >= Timing.RaiseAfter)
            Assert.True(state.IsActive(), $"{Id(i)} is {state} at {Now:O}");
        // Never stuck: back for long, it stands no more, and neither do the consequences of a cause that is gone.
        if (IsSurelyGone(i))
            Assert.True(state is AlarmState.Normal or AlarmState.ReturnedUnacknowledged || IsAside(state), $"{Id(i)} is {state} at {Now:O}");
        if (IsSurelyGone(Cause) || i >= Consequences)
            Assert.NotEqual(AlarmState.Suppressed, state);
        // Whatever has an end has ended.
        Assert.False(alarm?.SetAside?.Until <= Now);
    }

    bool IsSurelyGone(int i) => goodSince[i] != DateTimeOffset.MaxValue && Now - goodSince[i] >= SurelyCleared;

    static bool IsAside(AlarmState state) => state is AlarmState.Shelved or AlarmState.OutOfService;
}
