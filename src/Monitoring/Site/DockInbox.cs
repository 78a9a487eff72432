using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Site;

/// <summary>Gathers what arrives for one dock between two ticks and freezes it into an image.</summary>
sealed class DockInbox(SiteDefinition site, DockDefinition dock)
{
    readonly NameList names = new(dock.Pedestals.Keys);
    readonly PedestalInbox[] pedestals = [.. dock.Pedestals.Values.Select(pedestal => new PedestalInbox(pedestal, site))];

    readonly Dictionary<string, bool> boats = [];
    Weather? weather;
    DateTimeOffset? began;
    DateTimeOffset? listensSince;

    /// <returns>It should not wait for the next tick.</returns>
    public bool Take(Inbound inbound, DateTimeOffset arrivedAt)
    {
        switch (inbound)
        {
            case Reading reading when names.TryFind(reading.Pedestal, out var at):
                return pedestals[at].Take(reading, arrivedAt);
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
        return false;
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
sealed class PedestalInbox(PedestalDefinition definition, SiteDefinition site)
{
    /// <summary>From so much between two readings a neutral may have opened, a leg may be gone or come back: 6 V of 120 (assumed).</summary>
    const double JumpShare = 0.05;

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

    /// <returns>
    /// It should not wait for the next tick: the volts have jumped, or an outlet is for the second reading in a row over what it may carry for hours (a motor's
    /// start is over before its second).
    /// </returns>
    public bool Take(Reading reading, DateTimeOffset arrivedAt)
    {
        Thaw();
        foreach (var (name, outlet) in reading.Outlets)
        {
            outlets[name].Add(new(reading.Time, reading.Volts, outlet));
            if (IsDrawing(outlet.Amps))
                lastDrew[name] = reading.Time > lastDrew.GetValueOrDefault(name) ? reading.Time : lastDrew[name];
        }
        if (latest != null && reading.Time <= latest.Time)
            return false;
        var cannotWait = latest != null && (HasJumped(latest.Volts, reading.Volts) || IsOverForTheSecondTime(reading, latest));
        (previous, latest) = (latest, reading);
        heardAt = arrivedAt;
        return cannotWait;
    }

    bool HasJumped(PerLeg from, PerLeg to)
    {
        foreach (var leg in to.Legs)
            if (Math.Abs(to[leg] - from[leg]) >= JumpShare * site.Supply.NominalVolts)
                return true;
        return false;
    }

    bool IsOverForTheSecondTime(Reading reading, Reading before)
    {
        foreach (var (name, outlet) in reading.Outlets)
            if (IsOver(name, outlet) && IsOver(name, before.Outlets.GetValueOrDefault(name)) && !IsOver(name, previous?.Outlets.GetValueOrDefault(name)))
                return true;
        return false;
    }

    bool IsOver(string name, OutletReading? outlet)
    {
        if (outlet == null)
            return false;
        foreach (var leg in outlet.Amps.Legs)
            if (outlet.Amps[leg] > site.Limits.ContinuousAmps(definition.Outlets[name].RatingAmps))
                return true;
        return false;
    }

    bool IsDrawing(PerLeg amps)
    {
        foreach (var leg in amps.Legs)
            if (amps[leg] >= site.Limits.DrawingAmps)
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
