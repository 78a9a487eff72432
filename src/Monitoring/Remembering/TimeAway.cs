using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Remembering;

/// <summary>
/// A memory after a time in which nobody listened, or by a clock that has jumped: the two cannot be told apart. Forwards, what needs to be
/// seen for a while before it counts is not taken as seen meanwhile, and silence counts from now; the ends of shelves and clear delays are
/// moments of real time. Backwards, moments that would lie ahead move back with the clock, so that no delay becomes longer by the jump.
/// </summary>
static class TimeAway
{
    /// <summary>A clock that was set back by more has been wrong for long: what was learned by the calendar begins anew.</summary>
    static readonly TimeSpan FarBack = TimeSpan.FromDays(1);

    public static DockMemory After(DockMemory memory, DateTimeOffset last, DateTimeOffset now)
    {
        var listening = memory with { Inbox = memory.Inbox with { ListensSince = now }, Early = null };
        return now >= last ? Away(listening, now - last) : new SetBack(last - now, now).Of(listening) with
        {
            Forecaster = last - now > FarBack ? null : memory.Forecaster,
            Learning = last - now > FarBack ? memory.Learning with { Joints = null } : memory.Learning,
        };
    }

    static DockMemory Away(DockMemory memory, TimeSpan away) => memory with
    {
        Alarms = memory.Alarms with
        {
            Tracks = [.. memory.Alarms.Tracks.Select(track => track with { Condition = track.Condition with { PastSince = track.Condition.PastSince + away } })],
        },
        Adviser = memory.Adviser with
        {
            Limits = memory.Adviser.Limits with { Since = memory.Adviser.Limits.Since.ToDictionary(pair => pair.Key, pair => pair.Value + away) },
        },
    };
}

/// <summary>Moves every moment that would lie ahead back with the clock.</summary>
sealed class SetBack(TimeSpan by, DateTimeOffset now)
{
    public DockMemory Of(DockMemory memory) => memory with
    {
        Inbox = Of(memory.Inbox),
        Breakers = new(now, [.. memory.Breakers.Breakers.Select(one => one with { Breaker = Of(one.Breaker) })]),
        Contacts = memory.Contacts with
        {
            Plugs = [.. memory.Contacts.Plugs.Select(one => one with { Plug = one.Plug with { MeasuredAt = Back(one.Plug.MeasuredAt) } })],
        },
        Transformer = memory.Transformer == null ? null : memory.Transformer with { SettledUntil = Back(memory.Transformer.SettledUntil) },
        Outages = memory.Outages == null ? null : Of(memory.Outages),
        Alarms = new([.. memory.Alarms.Tracks.Select(Of)], Of(memory.Alarms.Burst)),
        Adviser = memory.Adviser with { Limits = Of(memory.Adviser.Limits), Requests = Of(memory.Adviser.Requests) },
    };

    DateTimeOffset Back(DateTimeOffset at) => at > now ? at - by : at;

    DateTimeOffset? Back(DateTimeOffset? at) => at is { } known ? Back(known) : null;

    DockInboxMemory Of(DockInboxMemory inbox) => inbox with
    {
        Began = Back(inbox.Began),
        Weather = inbox.Weather == null ? null : inbox.Weather with { Time = Back(inbox.Weather.Time) },
        Pedestals = inbox.Pedestals.ToDictionary(pair => pair.Key, pair => Of(pair.Value)),
    };

    /// <summary>A pedestal whose readings are ahead has had its clock set too; else its next readings would all seem to be late.</summary>
    PedestalInboxMemory Of(PedestalInboxMemory pedestal)
    {
        var its = pedestal.Latest?.Time > now ? by : TimeSpan.Zero;
        return pedestal with
        {
            HeardAt = Back(pedestal.HeardAt),
            Latest = pedestal.Latest == null ? null : pedestal.Latest with { Time = pedestal.Latest.Time - its },
            Previous = pedestal.Previous == null ? null : pedestal.Previous with { Time = pedestal.Previous.Time - its },
            Link = pedestal.Link == null ? null : pedestal.Link with { Time = Back(pedestal.Link.Time) },
            LastDrew = pedestal.LastDrew.ToDictionary(pair => pair.Key, pair => pair.Value - its),
            Recent = pedestal.Recent.ToDictionary(
                pair => pair.Key, pair => (IReadOnlyList<OutletMoment>)[.. pair.Value.Select(moment => moment with { Time = moment.Time - its })]),
        };
    }

    BreakerMemory Of(BreakerMemory breaker) => breaker with
    {
        Trend = breaker.Trend with { Minute = Math.Min(breaker.Trend.Minute, now.ToUnixTimeSeconds() / 60) },
    };

    OutageMemory Of(OutageMemory outages) => new(
        [.. outages.Last.Select(outage => outage with { Since = Back(outage.Since) })],
        Back(outages.RecoveredAt),
        outages.Signs.ToDictionary(pair => pair.Key, pair => pair.Value with { AliveAt = Back(pair.Value.AliveAt), LostSince = Back(pair.Value.LostSince) }));

    AlarmTrackMemory Of(AlarmTrackMemory track) => track with
    {
        Condition = track.Condition with { PastSince = Back(track.Condition.PastSince), BackSince = Back(track.Condition.BackSince) },
        Raised = [.. track.Raised.Select(Back)],
    };

    BurstMemory Of(BurstMemory burst) => burst with
    {
        Raised = [.. burst.Raised.Select(one => one with { At = Back(one.At) })],
        LastRaised = Back(burst.LastRaised),
    };

    LimitsMemory Of(LimitsMemory limits) => limits with { Since = limits.Since.ToDictionary(pair => pair.Key, pair => Back(pair.Value)) };

    RequestsMemory Of(RequestsMemory requests) => requests with
    {
        Standing = [.. requests.Standing.Select(request => request with { AskedAt = Back(request.AskedAt), FreeSince = Back(request.FreeSince) })],
        Asked = [.. requests.Asked.Select(one => one with { At = Back(one.At) })],
    };
}
