using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Site;

/// <summary>Gathers what arrives for one dock between two ticks and freezes it into an image.</summary>
sealed class DockInbox(SiteDefinition site, DockDefinition dock)
{
    readonly NameList names = new(dock.Pedestals.Keys);
    readonly PedestalInbox[] pedestals = [.. dock.Pedestals.Values.Select(pedestal => new PedestalInbox(pedestal, site.Limits))];

    readonly Dictionary<string, bool> boats = [];
    Weather? weather;
    DateTimeOffset? began;
    DateTimeOffset? listensSince;

    public void Take(Inbound inbound, DateTimeOffset arrivedAt)
    {
        switch (inbound)
        {
            case Reading reading when names.TryFind(reading.Pedestal, out var at):
                pedestals[at].Take(reading, arrivedAt);
                break;
            case LinkNotice link when names.TryFind(link.Pedestal, out var at):
                pedestals[at].Take(link);
                break;
            case BoatNotice boat:
                boats[boat.Slip] = boat.Present;
                foreach (var pedestal in pedestals)
                    pedestal.Thaw();
                break;
            case Weather newer when weather == null || newer.Time >= weather.Time:
                weather = newer;
                break;
        }
    }

    /// <summary>What each pedestal that has been heard said last.</summary>
    public IEnumerable<Reading> Newest => pedestals.Select(pedestal => pedestal.Newest).OfType<Reading>();

    public DockImage Freeze(DateTimeOffset now)
    {
        var since = began ??= now;
        return new(now, names.Each(at => pedestals[at].Freeze(now, since, listensSince, boats)), weather);
    }

    public DockInboxMemory Memory() => new(
        began, listensSince, weather, boats.ToDictionary(), names.Each(at => pedestals[at].Memory()));

    public void Resume(DockInboxMemory memory)
    {
        (began, listensSince, weather) = (memory.Began, memory.ListensSince, memory.Weather);
        foreach (var (slip, present) in memory.Boats)
            boats[slip] = present;
        foreach (var (name, its) in memory.Pedestals)
            if (names.TryFind(name, out var at))
                pedestals[at].Resume(its);
    }
}

/// <summary>The newest of each thing that one pedestal has said. Late and repeated messages change nothing.</summary>
/// <remarks>An image stands until something new is said: only how long it has been silent goes on.</remarks>
sealed class PedestalInbox(PedestalDefinition definition, SiteLimits limits)
{
    readonly NameList names = new(definition.Outlets.Keys);
    readonly OutletDefinition[] definitions = [.. definition.Outlets.Values];
    readonly Dictionary<string, RecentMoments> outlets = definition.Outlets.Keys.ToDictionary(name => name, _ => new RecentMoments());
    readonly Dictionary<string, DateTimeOffset> lastDrew = [];
    Reading? latest;
    Reading? previous;
    DateTimeOffset heardAt;
    LinkNotice? link;
    PedestalImage? frozen;

    public Reading? Newest => latest;

    /// <summary>Something has been said: the next image is another.</summary>
    public void Thaw() => frozen = null;

    public void Take(Reading reading, DateTimeOffset arrivedAt)
    {
        Thaw();
        foreach (var (name, outlet) in reading.Outlets)
        {
            outlets[name].Add(new(reading.Time, reading.Volts, outlet));
            if (IsDrawing(outlet.Amps))
                lastDrew[name] = reading.Time > lastDrew.GetValueOrDefault(name) ? reading.Time : lastDrew[name];
        }
        if (latest != null && reading.Time <= latest.Time)
            return;
        (previous, latest) = (latest, reading);
        heardAt = arrivedAt;
    }

    bool IsDrawing(PerLeg amps)
    {
        foreach (var leg in amps.Legs)
            if (amps[leg] >= limits.DrawingAmps)
                return true;
        return false;
    }

    public void Take(LinkNotice notice)
    {
        Thaw();
        if (link == null || notice.Time >= link.Time)
            link = notice;
    }

    public PedestalImage Freeze(DateTimeOffset now, DateTimeOffset began, DateTimeOffset? listensSince, Dictionary<string, bool> boats)
    {
        frozen ??= new(definition, latest, previous, TimeSpan.Zero, link?.Online, names.Each(at => Freeze(definitions[at], boats)));
        var silentSince = latest == null ? began : heardAt;
        return frozen with { SilentFor = now - silentSince, WaitedFor = now - (listensSince > silentSince ? listensSince.Value : silentSince) };
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
