using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms;

/// <summary>Alarm ids as people send them: whether a site can have such an alarm.</summary>
public static class AlarmAddress
{
    /// <summary>The dock that an alarm's id begins with; names have no dots.</summary>
    public static string Dock(string id) => id.Split('.', 2)[0];

    /// <summary>The pedestal or cable that it names, else the dock.</summary>
    public static string Point(string id) => id.Split('.') is [_, var point, _, ..] ? point : Dock(id);

    public static bool Exists(SiteDefinition site, string id) =>
        id.Split('.') is [var dockName, .. var place, var word] && AlarmKinds.TryParse(word, out _)
        && site.Docks.TryGetValue(dockName, out var dock) && place switch
        {
            [] => true,
            [var one] => dock.Pedestals.ContainsKey(one) || dock.Cables.Any(cable => cable.To == one) || one == Place.FeederBreaker,
            [var pedestal, var outlet] => dock.Pedestals.TryGetValue(pedestal, out var post) && post.Outlets.ContainsKey(outlet),
            _ => false,
        };
}
