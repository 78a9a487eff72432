using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Advice;

/// <summary>
/// Everything that is asked on one dock: one thing a slip. It keeps the interval between two requests to the same slip, knows who did
/// not answer, and how much each was asked for in the last day.
/// </summary>
sealed class RequestBook(AdviceSettings settings)
{
    /// <summary>Assumed, in intervals: who has not answered is asleep or ashore.</summary>
    const int LeftAloneFor = 4;

    static readonly TimeSpan Day = TimeSpan.FromDays(1);

    readonly SortedDictionary<string, Request> standing = new(StringComparer.Ordinal);
    readonly Dictionary<string, DateTimeOffset> notBefore = [];
    readonly List<(string Slip, DateTimeOffset At, double Amps)> asked = [];
    readonly List<AdviceChange> changes = [];

    public IReadOnlyCollection<Request> Standing => standing.Values;

    public Request? this[string slip] => standing.GetValueOrDefault(slip);

    /// <summary>What has changed since the last call.</summary>
    public IReadOnlyList<AdviceChange> TakeChanges()
    {
        AdviceChange[] taken = [.. changes];
        changes.Clear();
        return taken;
    }

    /// <summary>Nothing is asked of the slip, and nothing was within the interval. A clock that was set back far binds nobody.</summary>
    public bool MayAsk(string slip, DateTimeOffset now) => !standing.ContainsKey(slip)
        && !(notBefore.TryGetValue(slip, out var at) && now < at && at - now <= LeftAloneFor * settings.Repeat);

    /// <summary>Amps asked of a slip in the last day, each request and each renewal counted.</summary>
    public double AskedAmps(string slip, DateTimeOffset now) =>
        asked.Where(one => one.Slip == slip && now - one.At < Day).Sum(one => one.Amps);

    public void Ask(Request request, DateTimeOffset now)
    {
        standing[request.Slip] = request;
        notBefore[request.Slip] = now + settings.Repeat;
        asked.RemoveAll(one => now - one.At >= Day);
        if (request.IsShedding)
            asked.Add((request.Slip, now, request.Advice.Amps));
        changes.Add(new(now, request.Advice, null));
    }

    /// <summary>How a request goes on, without telling anybody.</summary>
    public void Note(Request request) => standing[request.Slip] = request;

    public void TakeBack(string slip, string reason, DateTimeOffset now)
    {
        if (standing.Remove(slip, out var request))
            changes.Add(new(now, request.Advice with { Until = now }, reason));
    }

    /// <summary>Takes back what was not followed; that slip is left alone for a while.</summary>
    public void GiveUp(string slip, DateTimeOffset now)
    {
        TakeBack(slip, "the amps have not fallen; another boat is asked", now);
        notBefore[slip] = now + LeftAloneFor * settings.Repeat;
    }

    /// <summary>To be called when the changes have been taken.</summary>
    public RequestsMemory Memory() => new(
        [.. standing.Values], notBefore.ToDictionary(), [.. asked.Select(one => new AskedThen(one.Slip, one.At, one.Amps))]);

    public void Resume(RequestsMemory memory)
    {
        foreach (var request in memory.Standing)
            standing[request.Slip] = request;
        foreach (var (slip, at) in memory.NotBefore)
            notBefore[slip] = at;
        asked.AddRange(memory.Asked.Select(one => (one.Slip, one.At, one.Amps)));
    }
}

/// <param name="NotBefore">When a slip may be asked again.</param>
/// <param name="Asked">In the last day.</param>
sealed record RequestsMemory(
    IReadOnlyList<Request> Standing, IReadOnlyDictionary<string, DateTimeOffset> NotBefore, IReadOnlyList<AskedThen> Asked);

sealed record AskedThen(string Slip, DateTimeOffset At, double Amps);
