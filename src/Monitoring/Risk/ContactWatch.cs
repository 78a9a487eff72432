using Farberth.Grid.Protection;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>Follows how warm the plugs of one dock are. Deterministic; a tick moves each on, a minute weighs what was measured.</summary>
public sealed class ContactWatch(SiteDefinition site, DockDefinition dock)
{
    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);

    readonly Dictionary<OutletKey, PlugWatch> plugs = (
        from pedestal in dock.Pedestals.Values
        from outlet in pedestal.Outlets.Values
        select new OutletKey(pedestal.Name, outlet.Name))
        .ToDictionary(key => key, key => new PlugWatch(dock.Pedestals[key.Pedestal].Outlets[key.Outlet], site.Limits.Contacts));

    readonly IReadOnlyDictionary<string, OutletKey[]> bySlip = (
        from pedestal in dock.Pedestals.Values
        from outlet in pedestal.Outlets.Values
        where outlet.Slip != null
        group new OutletKey(pedestal.Name, outlet.Name) by outlet.Slip!)
        .ToDictionary(slip => slip.Key, slip => slip.ToArray());

    DateTimeOffset? last;
    TimeSpan elapsed;
    ConnectorStep step;
    double recentAir;
    double earlierAir;

    /// <summary>By outlet; those that have not been heard from are not in it.</summary>
    /// <param name="image">Not older than the last.</param>
    public IReadOnlyDictionary<OutletKey, ContactRisk> Tick(DockImage image)
    {
        var airCelsius = PedestalAir.CelsiusOf(image, site.Limits, zone);
        Follow(image.Now, airCelsius);
        var air = new PedestalAir(
            airCelsius, (recentAir - earlierAir) / (ConnectorStep.EarlierMinutes - ConnectorStep.RecentMinutes));
        var risks = new Dictionary<OutletKey, ContactRisk>(plugs.Count);
        foreach (var (name, pedestal) in image.Pedestals)
            foreach (var (outlet, its) in pedestal.Outlets)
            {
                var key = new OutletKey(name, outlet);
                if (plugs[key].Tick(image.Now, pedestal.IsFresh, its, step, air) is { } risk)
                    risks[key] = risk with { SpareOutlet = Spare(image, key, its) };
            }
        return risks;
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

    /// <summary>For a cord that was left aboard while this outlet carries what two are there for.</summary>
    string? Spare(DockImage image, OutletKey outlet, OutletImage its)
    {
        if (its.Definition.Slip is not { } slip || bySlip[slip] is not { Length: > 1 } both || !IsDrawing(its))
            return null;
        foreach (var other in both)
            if (other != outlet && image.Pedestals[other.Pedestal].Outlets[other.Outlet] is { Latest: not null } idle && !IsDrawing(idle))
                return other.Pedestal == outlet.Pedestal ? other.Outlet : $"{other.Outlet} of pedestal {other.Pedestal}";
        return null;
    }

    bool IsDrawing(OutletImage outlet) =>
        outlet.Latest is { Closed: not false } latest && latest.Amps.Legs.Any(leg => latest.Amps[leg] >= site.Limits.DrawingAmps);
}
