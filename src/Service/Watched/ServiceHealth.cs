using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Site;
using Farberth.Service.Journaling;
using Farberth.Service.LongHistory;
using Farberth.Service.Views;
using static System.FormattableString;

namespace Farberth.Service.Watched;

public enum PartState
{
    Good,

    /// <summary>Somebody should look; the docks are watched all the same.</summary>
    Doubtful,

    /// <summary>Without this part nobody should rely on the service.</summary>
    Failed,
}

/// <param name="Reason">In words, also where all is well.</param>
public sealed record HealthPart(string Name, PartState State, string Reason);

/// <summary>Whether the service does what it is there for, part by part: for the page, for probes, for people. Immutable.</summary>
public sealed record ServiceHealth(IReadOnlyList<HealthPart> Parts)
{
    /// <summary>Ticks come every second; after so long without one the watch has stopped.</summary>
    public static readonly TimeSpan LongestWithoutTick = TimeSpan.FromSeconds(15);

    const string Watch = "watch";

    public bool IsReady => Parts.All(part => part.State != PartState.Failed);

    /// <summary>The process does its work, whatever the world around it does: starting it again would not help.</summary>
    public bool IsLive => Parts.Single(part => part.Name == Watch).State != PartState.Failed;

    /// <param name="began">When the service started.</param>
    /// <param name="historyProblem">Why the history takes nothing; null: it does, or none is kept.</param>
    /// <param name="carried">The logs on their way to the long history.</param>
    public static ServiceHealth Of(SiteView view, JournalState journal, string? historyProblem, IReadOnlyList<Carried> carried, DateTimeOffset began, DateTimeOffset now) => new(
        [OfWatch(view, began, now), OfBroker(view), OfStore(view), OfHistory(historyProblem), OfJournal(journal), OfReadings(view, now), .. carried.Select(OfHistory)]);

    static HealthPart OfWatch(SiteView view, DateTimeOffset began, DateTimeOffset now)
    {
        var since = now - (view.Now ?? began);
        var reason = view.Now is null && since <= LongestWithoutTick ? "begins" : Invariant($"last tick {since.TotalSeconds:0} s ago");
        return new(Watch, since <= LongestWithoutTick ? PartState.Good : PartState.Failed, reason);
    }

    static HealthPart OfBroker(SiteView view) => view.Link.Phase == LinkPhase.Connected
        ? new("broker", PartState.Good, "connected")
        : new("broker", PartState.Failed, $"{view.Link.Phase.ToString().ToLowerInvariant()} {view.Link.Reason}".TrimEnd());

    static HealthPart OfStore(SiteView view) =>
        !view.Intake.IsDurable ? new("store", PartState.Failed, $"the disk takes nothing: {view.Intake.Problem}")
        : view.Intake.Lost > 0 ? new("store", PartState.Doubtful, Invariant($"{view.Intake.Lost} messages went before everybody had read them"))
        : new("store", PartState.Good, "what arrives is kept");

    static HealthPart OfHistory(string? problem) => problem is null
        ? new("history", PartState.Good, "takes readings")
        : new("history", PartState.Doubtful, $"takes no readings: {problem}; the intake log keeps them");

    static HealthPart OfJournal(JournalState journal) =>
        journal.Away is { } reason ? new("journal", PartState.Doubtful, Invariant($"{reason}; people are told without it, {journal.Waiting} parts wait"))
        : journal.Lost > 0 ? new("journal", PartState.Doubtful, Invariant($"{journal.Lost} parts were never written down"))
        : new("journal", PartState.Good, "what happens is written down");

    static HealthPart OfReadings(SiteView view, DateTimeOffset now)
    {
        if (NewestReadingAge(view, now) is not { } age)
            return new("readings", PartState.Failed, "no pedestal has been heard yet");
        return new("readings", age <= PedestalImage.FreshFor ? PartState.Good : PartState.Failed, Invariant($"the newest came {age.TotalSeconds:0} s ago"));
    }

    /// <summary>Since any pedestal was heard; null before the first.</summary>
    public static TimeSpan? NewestReadingAge(SiteView view, DateTimeOffset now) => view.Docks.Values
        .SelectMany(step => step.Picture.Image.Pedestals.Values, (step, pedestal) => (step.Now, pedestal))
        .Where(heard => heard.pedestal.Latest is not null)
        .Select(heard => (TimeSpan?)(now - heard.Now + heard.pedestal.SilentFor))
        .Min();

    static HealthPart OfHistory(Carried carried) => new(
        $"history of {carried.Name}",
        carried.IsHigh || carried.State.Problem.Length > 0 ? PartState.Doubtful : PartState.Good,
        carried.State.Problem.Length > 0
            ? Invariant($"InfluxDB: {carried.State.Problem}; {carried.State.WaitingBytes} bytes wait, the oldest for {carried.State.WaitingFor.TotalSeconds:0} s")
            : Invariant($"{carried.State.WaitingBytes} bytes wait, {carried.Fill:0.0 %} of the room"));
}
