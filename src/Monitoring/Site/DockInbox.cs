using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Site;

/// <summary>Gathers what arrives for one dock between two ticks and freezes it into an image.</summary>
sealed class DockInbox(SiteDefinition site, DockDefinition dock)
{
    readonly Dictionary<string, PedestalInbox> pedestals =
        dock.Pedestals.Values.ToDictionary(pedestal => pedestal.Name, pedestal => new PedestalInbox(pedestal, site.Limits));

    readonly Dictionary<string, bool> boats = [];
    Weather? weather;
    DateTimeOffset? began;
    DateTimeOffset? listensSince;

    public void Take(Inbound inbound, DateTimeOffset arrivedAt)
    {
        switch (inbound)
        {
            case Reading reading when pedestals.TryGetValue(reading.Pedestal, out var pedestal):
                pedestal.Take(reading, arrivedAt);
                break;
            case LinkNotice link when pedestals.TryGetValue(link.Pedestal, out var pedestal):
                pedestal.Take(link);
                break;
            case BoatNotice boat:
                boats[boat.Slip] = boat.Present;
                break;
            case Weather newer when weather == null || newer.Time >= weather.Time:
                weather = newer;
                break;
        }
    }

    public DockImage Freeze(DateTimeOffset now)
    {
        began ??= now;
        return new(now, pedestals.ToDictionary(pair => pair.Key, pair => pair.Value.Freeze(now, began.Value, listensSince, boats)), weather);
    }

    public DockInboxMemory Memory() => new(
        began, listensSince, weather, boats.ToDictionary(), pedestals.ToDictionary(pair => pair.Key, pair => pair.Value.Memory()));

    public void Resume(DockInboxMemory memory)
    {
        (began, listensSince, weather) = (memory.Began, memory.ListensSince, memory.Weather);
        foreach (var (slip, present) in memory.Boats)
            boats[slip] = present;
        foreach (var (name, its) in memory.Pedestals)
            pedestals[name].Resume(its);
    }
}

/// <summary>The newest of each thing that one pedestal has said. Late and repeated messages change nothing.</summary>
sealed class PedestalInbox(PedestalDefinition definition, SiteLimits limits)
{
    readonly Dictionary<string, RecentMoments> outlets = definition.Outlets.Keys.ToDictionary(name => name, _ => new RecentMoments());
    readonly Dictionary<string, DateTimeOffset> lastDrew = [];
    Reading? latest;
    Reading? previous;
    DateTimeOffset heardAt;
    LinkNotice? link;

    public void Take(Reading reading, DateTimeOffset arrivedAt)
    {
        foreach (var (name, outlet) in reading.Outlets)
        {
            outlets[name].Add(new(reading.Time, reading.Volts, outlet));
            if (outlet.Amps.Legs.Any(leg => outlet.Amps[leg] >= limits.DrawingAmps))
                lastDrew[name] = reading.Time > lastDrew.GetValueOrDefault(name) ? reading.Time : lastDrew[name];
        }
        if (latest != null && reading.Time <= latest.Time)
            return;
        (previous, latest) = (latest, reading);
        heardAt = arrivedAt;
    }

    public void Take(LinkNotice notice)
    {
        if (link == null || notice.Time >= link.Time)
            link = notice;
    }

    public PedestalImage Freeze(DateTimeOffset now, DateTimeOffset began, DateTimeOffset? listensSince, Dictionary<string, bool> boats)
    {
        var silentSince = latest == null ? began : heardAt;
        return new(
            definition,
            latest,
            previous,
            now - silentSince,
            link?.Online,
            definition.Outlets.ToDictionary(pair => pair.Key, pair => Freeze(pair.Value, boats)))
        {
            WaitedFor = now - (listensSince > silentSince ? listensSince.Value : silentSince),
        };
    }

    OutletImage Freeze(OutletDefinition outlet, Dictionary<string, bool> boats) => new(
        outlet,
        outlets[outlet.Name].Newest?.Outlet,
        outlets[outlet.Name].Window,
        lastDrew.TryGetValue(outlet.Name, out var drew) ? drew : null,
        outlet.Slip != null && boats.TryGetValue(outlet.Slip, out var present) ? present : null)
    {
        LowestRecentVolts = outlets[outlet.Name].LowestVolts,
    };

    public PedestalInboxMemory Memory() => new(
        latest, previous, heardAt, link, lastDrew.ToDictionary(), outlets.ToDictionary(pair => pair.Key, pair => pair.Value.Memory()));

    public void Resume(PedestalInboxMemory memory)
    {
        (latest, previous, heardAt, link) = (memory.Latest, memory.Previous, memory.HeardAt, memory.Link);
        foreach (var (name, drew) in memory.LastDrew)
            lastDrew[name] = drew;
        foreach (var (name, recent) in memory.Recent)
            outlets[name].Resume(recent);
    }
}

/// <param name="ListensSince">When the service came back from being away; null: it never was.</param>
/// <param name="Boats">Whether one is there, by slip.</param>
sealed record DockInboxMemory(
    DateTimeOffset? Began, DateTimeOffset? ListensSince, Weather? Weather, IReadOnlyDictionary<string, bool> Boats,
    IReadOnlyDictionary<string, PedestalInboxMemory> Pedestals);

/// <param name="Recent">By outlet.</param>
sealed record PedestalInboxMemory(
    Reading? Latest, Reading? Previous, DateTimeOffset HeardAt, LinkNotice? Link, IReadOnlyDictionary<string, DateTimeOffset> LastDrew,
    IReadOnlyDictionary<string, IReadOnlyList<OutletMoment>> Recent);
