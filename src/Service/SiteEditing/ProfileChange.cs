using Farberth.Monitoring.Site;

namespace Farberth.Service.SiteEditing;

/// <summary>What another site file makes of the volts at a pedestal, with the amps that are drawn now.</summary>
/// <param name="Before">Computed V, leg to neutral; null: the pedestal is new.</param>
/// <param name="After">Null: it is there no more.</param>
public sealed record ProfileChange(string Dock, string Pedestal, string Leg, double? Before, double? After)
{
    /// <summary>
    /// Both by the load flow that every estimate holds: the measured amps from the file's no-load volts, alike on every leg, with sound
    /// neutrals. The meters' volts have no say in it, since they are those of the dock as it is wired.
    /// </summary>
    /// <param name="now">The latest step of each dock, by name.</param>
    public static IReadOnlyList<ProfileChange> Between(SiteDefinition before, SiteDefinition after, IReadOnlyDictionary<string, DockStep> now)
    {
        var images = now.ToDictionary(dock => dock.Key, dock => dock.Value.Picture.Image);
        var (old, young) = (Volts(before, images), Volts(after, images));
        return
        [
            .. old.Keys.Union(young.Keys).OrderBy(key => key).Select(key => new ProfileChange(
                key.Dock, key.Pedestal, key.Leg, old.TryGetValue(key, out var was) ? was : null, young.TryGetValue(key, out var becomes) ? becomes : null)),
        ];
    }

    static Dictionary<(string Dock, string Pedestal, string Leg), double> Volts(SiteDefinition site, Dictionary<string, DockImage> images) => (
        from dock in site.Docks.Values
        where images.ContainsKey(dock.Name)
        let state = Step(site, dock, images[dock.Name]).Picture.Estimate.AtNoLoadVolts
        from pedestal in dock.Pedestals.Keys
        from leg in site.Supply.Legs
        select (Key: (dock.Name, pedestal, leg.ToString()), Volts: Math.Round(state.VoltsAt(pedestal, leg).Magnitude, 2)))
        .ToDictionary(one => one.Key, one => one.Volts);

    /// <summary>A monitor of that site that has heard what this dock's meters say now.</summary>
    static DockStep Step(SiteDefinition site, DockDefinition dock, DockImage image)
    {
        var monitor = new DockMonitor(site, dock);
        if (image.Weather is { } weather)
            monitor.Take(weather, image.Now);
        foreach (var (name, pedestal) in image.Pedestals)
            if (pedestal.Latest is { } latest && dock.Pedestals.TryGetValue(name, out var there))
                monitor.Take(latest with { Outlets = latest.Outlets.Where(outlet => there.Outlets.ContainsKey(outlet.Key)).ToDictionary() }, image.Now - pedestal.SilentFor);
        return monitor.Step(image.Now);
    }
}
