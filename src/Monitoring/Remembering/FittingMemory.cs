using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Remembering;

/// <summary>
/// What of a memory still fits a site file that may have been changed since. Alarms and requests stay as long as what they are
/// about is there; what was learned of an outlet stays while the outlet is the same; what rests on the whole dock stays only while cables,
/// supply and all outlets are the same.
/// </summary>
/// <param name="Memory">Null where nothing fits.</param>
/// <param name="Forgotten">What does not, and why, in words.</param>
sealed record FittingMemory(SiteMemory? Memory, IReadOnlyList<string> Forgotten)
{
    public static FittingMemory Of(SiteMemory memory, SiteDefinition site)
    {
        if (memory.Site != site.Name)
            return new(null, [$"everything: it is the memory of site {memory.Site}"]);
        List<string> forgotten = [.. memory.Docks.Keys.Where(name => !site.Docks.ContainsKey(name))
            .Select(name => $"dock {name}: the site file has it no more")];
        var docks = memory.Docks.Where(pair => site.Docks.ContainsKey(pair.Key))
            .ToDictionary(pair => pair.Key, pair => new DockFit(site, site.Docks[pair.Key], pair.Value.Shape, forgotten).Of(pair.Value));
        return new(memory with { Docks = docks }, forgotten);
    }
}

/// <summary>The same for one dock.</summary>
sealed class DockFit(SiteDefinition site, DockDefinition dock, DockShape before, List<string> forgotten)
{
    readonly DockShape now = DockShape.Of(site, dock);

    public DockMemory Of(DockMemory memory)
    {
        var still = memory with
        {
            Shape = now,
            Alarms = memory.Alarms with { Tracks = [.. memory.Alarms.Tracks.Where(IsStillThere)] },
            Adviser = memory.Adviser with { Requests = Of(memory.Adviser.Requests) },
            Commands = [.. memory.Commands.Where(command => AlarmAddress.Exists(site, command.AlarmId))],
        };
        return before.Network == now.Network ? still : OfAnotherNetwork(still);
    }

    DockMemory OfAnotherNetwork(DockMemory memory)
    {
        var gone = before.Outlets.Sum(pedestal => pedestal.Value.Keys.Count(outlet => !before.HasSame(pedestal.Key, outlet, now)));
        forgotten.Add($"dock {dock.Name}: its cables, supply or outlets are others in the site file now; "
            + $"its joints, meters' gains, cables' heat and sums begin anew, and so does all of {gone} outlets");
        return memory with
        {
            Inbox = memory.Inbox with { Pedestals = Same(memory.Inbox.Pedestals) },
            Estimator = null,
            Learning = new(null, null, Same(memory.Learning.Responses), [.. memory.Learning.LearnedResponses.Where(one => IsSame(one.Outlet))], []),
            Breakers = memory.Breakers with { Breakers = [.. memory.Breakers.Breakers.Where(one => IsSame(one.Outlet))] },
            Contacts = memory.Contacts with { Plugs = [.. memory.Contacts.Plugs.Where(one => IsSame(one.Outlet))] },
            Transformer = before.Source == now.Source ? memory.Transformer : null,
            Forecaster = memory.Forecaster == null ? null : memory.Forecaster with
            {
                Latest = null, Whole = null, Outlets = [.. memory.Forecaster.Outlets.Where(one => IsSame(one.Outlet))],
            },
            Outages = null,
            Alarms = memory.Alarms with { Tracks = [.. memory.Alarms.Tracks.Select(OfThisTree)] },
            Adviser = memory.Adviser with
            {
                Shortfalls = [],
                Limits = new(memory.Adviser.Limits.Last, new Dictionary<string, DateTimeOffset>(), new Dictionary<string, MarginMeans>()),
                Essential = memory.Adviser.Essential with { Drawn = [.. memory.Adviser.Essential.Drawn.Where(one => IsSame(one.Outlet))] },
            },
        };
    }

    /// <summary>A slip's alarm without draw stands under the slip's first outlet; of a dock that was rebuilt that may be another one.</summary>
    bool IsStillThere(AlarmTrackMemory track)
    {
        var isThere = AlarmAddress.Exists(site, track.Id) && (track.Kind != AlarmKind.NoDraw || before.Network == now.Network)
            && (track.Alarm?.Place is not { Pedestal: { } pedestal, Outlet: { } outlet } place || dock.Pedestals[pedestal].Outlets[outlet].Slip == place.Slip);
        if (!isThere && track.Alarm is { } alarm)
            forgotten.Add($"alarm {track.Id}, {alarm.State.Word()}: what it was about is not in the site file any more");
        return isThere;
    }

    AlarmTrackMemory OfThisTree(AlarmTrackMemory track) =>
        track.Point == DockDefinition.SourcePoint || dock.Cables.Any(cable => cable.To == track.Point) ? track : track with { Point = null };

    RequestsMemory Of(RequestsMemory requests)
    {
        bool IsThere(Request request) => site.Slips.ContainsKey(request.Slip) && request.Legs.All(leg =>
            dock.Pedestals.GetValueOrDefault(leg.Outlet.Pedestal)?.Outlets.GetValueOrDefault(leg.Outlet.Outlet)?.Slip == request.Slip);
        forgotten.AddRange(requests.Standing.Where(request => !IsThere(request))
            .Select(request => $"request to slip {request.Slip}: its outlets are others in the site file now"));
        return requests with { Standing = [.. requests.Standing.Where(IsThere)] };
    }

    bool IsSame(OutletKey outlet) => before.HasSame(outlet.Pedestal, outlet.Outlet, now);

    Dictionary<string, T> Same<T>(IReadOnlyDictionary<string, T> byPedestal) =>
        byPedestal.Where(pair => before.HasSame(pair.Key, now)).ToDictionary();
}
