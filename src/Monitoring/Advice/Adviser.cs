using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Advice;

/// <summary>
/// Decides what one dock asks of its boaters. It looks every ten seconds, and at once when an alarm has moved: takes up what alarms ask,
/// watches whether amps have fallen, takes back what is not needed, and plans anew when a limit has been passed for long enough.
/// Deterministic; it knows no clock.
/// </summary>
sealed class Adviser(SiteDefinition site)
{
    static readonly TimeSpan Every = TimeSpan.FromSeconds(10);

    /// <summary>Assumed: what comes on within a minute is asked for together.</summary>
    static readonly TimeSpan BetweenPlans = TimeSpan.FromMinutes(1);

    /// <summary>Load flows cost time; while nothing changes they are not repeated at every look.</summary>
    static readonly TimeSpan BetweenTries = TimeSpan.FromSeconds(30);
    static readonly TimeSpan BetweenReleases = TimeSpan.FromMinutes(1);

    /// <summary>Longer than a thermostat's pause (assumed, as for the overload alarm).</summary>
    static readonly TimeSpan FreeFor = TimeSpan.FromMinutes(10);

    /// <summary>Weights: 4 % for somebody who was asked much; see <see cref="Weight"/>.</summary>
    const double FairnessShare = 0.03;
    const double OthersShare = 0.01;

    /// <summary>Assumed: asked for a water heater's amps once.</summary>
    const double HalfFairAmps = 10;

    readonly EssentialBase essential = new();
    readonly LimitWatch watch = new(site.AlarmTimings);
    readonly RequestBook book = new(site.Advice);
    readonly BoaterWords words = new(site);
    DateTimeOffset? last;
    DateTimeOffset? nextPlan;
    DateTimeOffset? nextRelease;
    IReadOnlyList<Shortfall> shortfalls = [];
    DockAdvice latest = DockAdvice.Nothing;

    /// <summary>The last plan that asked for something, for whoever wants to check it.</summary>
    public PlannedShed? LastPlan { get; private set; }

    /// <param name="standing">Every alarm that is not normal.</param>
    /// <param name="moved">An alarm took a step in this tick.</param>
    public DockAdvice Tick(DockPicture picture, IReadOnlyList<Alarm> standing, bool moved)
    {
        var now = picture.Image.Now;
        if ((!moved && last is { } before && now >= before && now - before < Every) || !picture.Image.IsWhole)
            return latest = latest with { Changes = [] };
        last = now;
        essential.Learn(picture.Image, site.Limits.DrawingAmps);
        TakeUp(AlarmAsks.Of(picture, standing), now);
        var levers = Lever.Of(picture, essential);
        var limits = AdviceLimits.Of(picture, levers);
        var held = watch.Held(limits, now);
        Follow(picture, levers);
        var model = new Lazy<DockModel>(() => new DockModel(picture, levers));
        if (book.Standing.Any(request => request.IsShedding) && IsDue(ref nextRelease, now, BetweenReleases))
            Release(model.Value, new ShedPlanner(picture, model.Value, limits, watch.Rise), limits, now);
        if (held.Count == 0)
            shortfalls = [];
        else if (IsDue(ref nextPlan, now, BetweenTries))
            Bring(picture, model.Value, limits, held);
        Renew(now);
        return latest = new(book.TakeChanges(), [.. book.Standing.Select(request => request.Advice)], shortfalls);
    }

    /// <summary>A hazard or a lost supply is told at once and again whenever it comes back; a look at the breaker waits for its interval.</summary>
    void TakeUp(IReadOnlyList<AlarmAsk> asks, DateTimeOffset now)
    {
        foreach (var request in book.Standing.Where(request => !request.IsShedding && asks.All(ask => ask.Slip != request.Slip)).ToList())
            book.TakeBack(request.Slip, "it is over", now);
        foreach (var ask in asks)
            if (book[ask.Slip] is { } known ? ask.Ask != known.Advice.Ask && (!known.IsShedding || ask.Ask < known.Advice.Ask)
                : ask.Ask != Ask.CheckBreaker || book.MayAsk(ask.Slip, now))
                book.Ask(new(new(now, ask.Slip, ask.Ask, ask.Amps, ask.Message, now + site.Advice.Repeat, ask.Why), now), now);
    }

    /// <summary>Notes who has done it or has left, and gives up on who has not done it in time.</summary>
    void Follow(DockPicture picture, IReadOnlyList<Lever> levers)
    {
        var now = picture.Image.Now;
        foreach (var request in book.Standing.Where(request => request.IsShedding).ToList())
            if (request.Legs.Any(leg => picture.Image.Pedestals[leg.Outlet.Pedestal].Outlets[leg.Outlet.Outlet].BoatPresent == false))
                book.TakeBack(request.Slip, "the boat has left", now);
            else if (request.WasFollowed)
                continue;
            else if (request.IsFollowed(levers))
                book.Note(request with { WasFollowed = true });
            else if (now - request.AskedAt >= site.Advice.Patience)
                book.GiveUp(request.Slip, now);
    }

    void Bring(DockPicture picture, DockModel model, IReadOnlyList<Limit> limits, IReadOnlyList<Limit> held)
    {
        var now = picture.Image.Now;
        var planner = new ShedPlanner(picture, model, limits, watch.Rise);
        var coming = Coming(model);
        var second = new SecondCordMove(picture, model, planner, limits);
        foreach (var limit in held.Where(limit => limit.Outlet?.Slip is { } slip && book.MayAsk(slip, now)))
            if (second.Of(limit, coming) is { } move)
                AskSecondCord(move.From, move.To, limit, now);
        coming = Coming(model);
        var askable = model.Levers.Select(lever => Askable(picture, lever, held)).ToList();
        var plan = planner.Plan(held, coming, askable);
        shortfalls = plan.NotEnough;
        if (plan.Amps.All(amps => amps == 0))
            return;
        nextPlan = now + BetweenPlans;
        LastPlan = new(now, plan, model.Levers, askable);
        AskToShed(model, plan, now);
    }

    /// <summary>Also after a clock was set back by more than the pause.</summary>
    static bool IsDue(ref DateTimeOffset? next, DateTimeOffset now, TimeSpan pause)
    {
        if (now < next && next - now <= BetweenPlans)
            return false;
        next = now + pause;
        return true;
    }

    /// <summary>By lever, what is asked and will still come down, but for one of the requests.</summary>
    double[] Coming(DockModel model, Request? without = null)
    {
        var coming = new double[model.Levers.Count];
        foreach (var request in book.Standing)
            if (request.IsShedding && !request.WasFollowed && request != without)
                for (var at = 0; at < coming.Length; at++)
                    coming[at] += request.ComingAmps(model.Levers[at]);
        return coming;
    }

    /// <summary>Takes back, the longest asked first, what the dock has not needed for a while even if it all comes back.</summary>
    void Release(DockModel model, ShedPlanner planner, IReadOnlyList<Limit> limits, DateTimeOffset now)
    {
        var back = new double[model.Levers.Count];
        foreach (var request in book.Standing.Where(request => request.IsShedding).OrderBy(request => request.AskedAt).ThenBy(request => request.Slip, StringComparer.Ordinal).ToList())
        {
            double[] kept = [.. back.Zip(Coming(model, without: request), (one, other) => one + other)];
            var after = planner.Margins([.. kept.Zip(model.Levers, (amps, lever) => amps - request.ReturningAmps(lever))]);
            var tight = Enumerable.Range(0, limits.Count).Where(at => request.Concerns(limits[at]) && !(after[at] <= -2 * planner.Deadband(at))).ToList();
            var before = tight.Count > 0 ? planner.Margins(kept) : [];
            var isFree = tight.TrueForAll(at => after[at] <= before[at]);
            var since = isFree ? request.FreeSince ?? now : (DateTimeOffset?)null;
            if (now - since >= FreeFor)
                book.TakeBack(request.Slip, "the dock can carry it again", now);
            else
                book.Note(request with { FreeSince = since });
            if (isFree)
                back = [.. model.Levers.Select((lever, at) => back[at] - request.ReturningAmps(lever))];
        }
    }

    Askable Askable(DockPicture picture, Lever lever, IReadOnlyList<Limit> held)
    {
        var pedestal = picture.Image.Pedestals[lever.Pedestal];
        var mayAsk = lever.Slip is { } slip && pedestal.IsFresh && pedestal.Outlets[lever.Outlet.Name].BoatPresent != false
            && book.MayAsk(slip, picture.Image.Now);
        return new(mayAsk ? lever.DiscretionaryAmps : 0, mayAsk ? Weight(lever, held, picture.Image.Now) : 1);
    }

    /// <summary>
    /// 1 for an outlet past its own limit, 1.01 for the others, and up to 0.03 more for who was asked for a ≫ 10 A in the last day:
    /// a/(a + 10 A). So fairness decides between boats that help alike and never costs the dock more than 4 % more amps.
    /// </summary>
    double Weight(Lever lever, IReadOnlyList<Limit> held, DateTimeOffset now)
    {
        var asked = book.AskedAmps(lever.Slip!, now);
        return 1 + (held.Any(limit => limit.Outlet?.Key == lever.Key) ? 0 : OthersShare) + FairnessShare * asked / (asked + HalfFairAmps);
    }

    void AskSecondCord(AskedLeg from, AskedLeg to, Limit limit, DateTimeOffset now)
    {
        var (until, why, slip) = (now + site.Advice.Repeat, limit.Words(), limit.Outlet!.Slip!);
        book.Ask(new(new(now, slip, Ask.SecondCord, from.Amps, words.SecondCord(from, to, until, why), until, why) { Legs = [from, to] }, now), now);
    }

    void AskToShed(DockModel model, ShedPlan plan, DateTimeOffset now)
    {
        var until = now + site.Advice.Repeat;
        foreach (var slip in Enumerable.Range(0, plan.Amps.Length).Where(at => plan.Amps[at] > 0).GroupBy(at => model.Levers[at].Slip!))
        {
            AskedLeg[] legs = [.. slip.Select(at => new AskedLeg(model.Levers[at].Key, model.Levers[at].Leg, plan.Amps[at], model.Levers[at].Amps))];
            var why = plan.For[slip.MaxBy(at => plan.Amps[at])]!.Words();
            book.Ask(new(new(now, slip.Key, Ask.Shed, legs.Sum(leg => leg.Amps), words.Shed(legs, until, why), until, why) { Legs = legs }, now), now);
        }
    }

    /// <summary>What still holds at its end is asked again: the interval has passed.</summary>
    void Renew(DateTimeOffset now)
    {
        foreach (var request in book.Standing.Where(request => now >= request.Advice.Until).ToList())
        {
            var until = now + site.Advice.Repeat;
            var message = request.Advice.Ask == Ask.Shed ? words.Shed(request.Legs, until, request.Advice.Why)
                : request.Advice.Ask == Ask.SecondCord ? words.SecondCord(request.Legs[0], request.Legs[1], until, request.Advice.Why) : request.Advice.Message;
            book.Ask(request with { Advice = request.Advice with { Time = now, Until = until, Message = message } }, now);
        }
    }

    /// <summary>All but <see cref="LastPlan"/>, which decides nothing.</summary>
    public AdviserMemory Memory() => new(last, nextPlan, nextRelease, shortfalls, essential.Memory(), watch.Memory(), book.Memory());

    public void Resume(AdviserMemory memory)
    {
        (last, nextPlan, nextRelease, shortfalls) = (memory.Last, memory.NextPlan, memory.NextRelease, memory.Shortfalls);
        essential.Resume(memory.Essential);
        watch.Resume(memory.Limits);
        book.Resume(memory.Requests);
        latest = new([], [.. book.Standing.Select(request => request.Advice)], shortfalls);
    }
}

sealed record AdviserMemory(
    DateTimeOffset? Last, DateTimeOffset? NextPlan, DateTimeOffset? NextRelease, IReadOnlyList<Shortfall> Shortfalls,
    EssentialMemory Essential, LimitsMemory Limits, RequestsMemory Requests);
