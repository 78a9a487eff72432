using Farberth.Grid.Protection;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>Follows how warm the plugs of one dock are. Deterministic; some seconds move each on, a minute weighs what was measured.</summary>
public sealed class ContactWatch(SiteDefinition site, DockDefinition dock)
{
    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);

    readonly Dictionary<OutletKey, PlugWatch> plugs = (
        from pedestal in dock.Pedestals.Values
        from outlet in pedestal.Outlets.Values
        select new OutletKey(pedestal.Name, outlet.Name))
        .ToDictionary(key => key, key => new PlugWatch(dock.Pedestals[key.Pedestal].Outlets[key.Outlet], site.Limits.Contacts));

    /// <summary>Plugs warm in minutes: in between, what was found stands.</summary>
    static readonly TimeSpan Every = TimeSpan.FromSeconds(5);

    IReadOnlyDictionary<OutletKey, ContactRisk> risks = new Dictionary<OutletKey, ContactRisk>();
    DateTimeOffset? last;
    TimeSpan elapsed;
    ConnectorStep step;
    double recentAir;
    double earlierAir;
    PedestalAir air;

    /// <summary>By outlet; those that have not been heard from are not in it.</summary>
    /// <param name="image">Not older than the last.</param>
    public IReadOnlyDictionary<OutletKey, ContactRisk> Tick(DockImage image)
    {
        if (image.Now - last is { } time && time >= TimeSpan.Zero && time < Every)
            return risks;
        var airCelsius = AirInTheSun.Celsius(image, site.Limits, zone, site.Limits.Contacts.SunRiseKelvin, sunsetHour: 20);
        Follow(image.Now, airCelsius);
        air = new PedestalAir(
            airCelsius, (recentAir - earlierAir) / (ConnectorStep.EarlierMinutes - ConnectorStep.RecentMinutes));
        var newer = new Dictionary<OutletKey, ContactRisk>(plugs.Count);
        foreach (var (key, plug) in plugs)
        {
            var pedestal = image.Pedestals[key.Pedestal];
            if (plug.Tick(image.Now, pedestal.IsFresh, pedestal.Outlets[key.Outlet], step, air) is { } risk)
                newer.Add(key, risk);
        }
        return risks = newer;
    }

    void Follow(DateTimeOffset now, double airCelsius)
    {
        if (last is not { } before)
            recentAir = earlierAir = airCelsius;
        else if (now - before is var time && time != elapsed)
        {
            elapsed = time;
            step = ConnectorStep.Of(time > TimeSpan.Zero ? time : TimeSpan.Zero); // a clock may have been set back
        }
        recentAir += (airCelsius - recentAir) * step.Recent;
        earlierAir += (airCelsius - earlierAir) * step.Earlier;
        last = now;
    }

    internal ContactsMemory Memory() => new(
        last, elapsed, recentAir, earlierAir, air, [.. plugs.Select(pair => new OutletPlugMemory(pair.Key, pair.Value.Memory()))]);

    internal void Resume(ContactsMemory memory)
    {
        (last, elapsed, recentAir, earlierAir, air) = (memory.Last, memory.Elapsed, memory.RecentAir, memory.EarlierAir, memory.Air);
        step = ConnectorStep.Of(elapsed > TimeSpan.Zero ? elapsed : TimeSpan.Zero);
        var found = new Dictionary<OutletKey, ContactRisk>();
        foreach (var its in memory.Plugs)
            if (plugs[its.Outlet].Resume(its.Plug, air) is { } risk)
                found.Add(its.Outlet, risk);
        risks = found;
    }
}

/// <param name="Elapsed">Of the last step.</param>
/// <param name="RecentAir">Around the pedestals, °C, mean of some minutes.</param>
/// <param name="EarlierAir">Mean of the last hour or so.</param>
sealed record ContactsMemory(
    DateTimeOffset? Last, TimeSpan Elapsed, double RecentAir, double EarlierAir, PedestalAir Air, IReadOnlyList<OutletPlugMemory> Plugs);

sealed record OutletPlugMemory(OutletKey Outlet, PlugMemory Plug);
