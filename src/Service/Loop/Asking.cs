using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Words;

namespace Farberth.Service.Loop;

/// <summary>
/// What people ask for at the console or through the API: messages like those of the broker, that take the same way. They wait here until
/// the loop has put them into the intake log; then the monitor hears them, and whoever asked learns what it said.
/// </summary>
/// <remarks>Asking is for any thread; all else is for the loop.</remarks>
sealed class Asking
{
    public const int MostWaiting = 64;

    sealed record Asked(RecordedMessage Message)
    {
        public TaskCompletionSource<Answer> Answered { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }

    readonly Lock gate = new();
    readonly List<Asked> waiting = [];

    // In the log, and given to the loop; then heard by the monitor, as a command for the next tick.
    readonly List<Asked> given = [];
    readonly List<(AlarmCommand Command, Asked Asked)> heard = [];
    TaskCompletionSource some = New();

    /// <summary>Queues a message.</summary>
    /// <returns>The answer, once there is one; at once where too many wait.</returns>
    public Task<Answer> Ask(RecordedMessage message)
    {
        var asked = new Asked(message);
        lock (gate)
        {
            if (waiting.Count >= MostWaiting)
                return Task.FromResult(new Answer(AnswerKind.NotNow, Sentence.Of("too much is being asked at once")));
            waiting.Add(asked);
            some.TrySetResult();
        }
        return asked.Answered.Task;
    }

    /// <summary>Whoever asked waits no longer.</summary>
    /// <returns>True where nobody has taken it yet: now nobody will.</returns>
    public bool Withdraw(Task<Answer> answer)
    {
        lock (gate)
            return waiting.RemoveAll(asked => asked.Answered.Task == answer) > 0;
    }

    /// <summary>Done when something waits.</summary>
    public Task WhenSome
    {
        get
        {
            lock (gate)
                return some.Task;
        }
    }

    /// <summary>All that waits, once it is kept.</summary>
    /// <param name="keep">Puts it onto the disk; null where it could, else why not.</param>
    /// <param name="now">It arrives now.</param>
    public IReadOnlyList<RecordedMessage> Take(DateTimeOffset now, Func<IReadOnlyList<RecordedMessage>, string?> keep)
    {
        List<Asked> all;
        lock (gate)
        {
            all = [.. waiting.Select(asked => asked with { Message = asked.Message with { At = now } })];
            waiting.Clear();
            if (some.Task.IsCompleted)
                some = New();
        }
        if (all.Count == 0)
            return [];
        if (keep([.. all.Select(asked => asked.Message)]) is { } problem)
        {
            foreach (var asked in all)
                asked.Answered.TrySetResult(new(AnswerKind.NotNow, Sentence.Of("the disk takes nothing now ({0}), so it would not outlast a restart", problem)));
            return [];
        }
        given.AddRange(all);
        return [.. all.Select(asked => asked.Message)];
    }

    /// <summary>The monitor has heard a message, perhaps one of these.</summary>
    public void Heard(RecordedMessage message, Decoded decoded)
    {
        if (given.Find(asked => ReferenceEquals(asked.Message, message)) is not { } mine)
            return;
        given.Remove(mine);
        if (decoded.Value is AlarmCommand command)
            heard.Add((command, mine));
        else
            mine.Answered.TrySetResult(decoded.Value is null ? Refused(decoded) : Answer.Done);
    }

    /// <summary>A dock has taken a tick: what it refused is refused, all else that was for it is done.</summary>
    public void Judged(DockStep step)
    {
        if (heard.Count == 0)
            return;
        foreach (var (command, asked) in heard.Where(one => one.Command.IsFor(step.Picture.Dock.Name)))
            asked.Answered.TrySetResult(step.Refused.FirstOrDefault(refused => ReferenceEquals(refused.Command, command)) is { } no
                ? new(AnswerKind.NotAllowed, no.Why) : Answer.Done);
        heard.RemoveAll(one => one.Command.IsFor(step.Picture.Dock.Name));
    }

    static Answer Refused(Decoded decoded) => decoded.Refusals is [{ } first, ..]
        ? new(first.Reason is RefusalReason.UnknownAlarm or RefusalReason.UnknownSlip ? AnswerKind.Unknown : AnswerKind.Wrong, Sentence.Of("{0}", first.Detail))
        : new(AnswerKind.Wrong, Sentence.Of("nobody understands that"));

    static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
