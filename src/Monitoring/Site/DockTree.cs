using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Site;

/// <summary>Who is fed through whom on one dock. A point is the outer end of a cable, or the source.</summary>
public sealed class DockTree
{
    readonly Dictionary<string, string> inner;
    readonly Dictionary<string, HashSet<string>> beyond = [];

    public DockTree(DockDefinition dock)
    {
        inner = dock.Cables.ToDictionary(cable => cable.To, cable => cable.From);
        Points = [.. inner.Keys.Append(DockDefinition.SourcePoint).OrderBy(point => Path(point).Count()).ThenBy(point => point, StringComparer.Ordinal)];
        foreach (var point in Points)
            beyond[point] = [];
        foreach (var point in Points)
            foreach (var through in Path(point))
                beyond[through].Add(point);
        OutletsOfSlips =
        [
            .. from pedestal in dock.Pedestals.Values
               from outlet in pedestal.Outlets.Values
               where outlet.Slip != null
               group new OutletKey(pedestal.Name, outlet.Name) by outlet.Slip into slip
               select (slip.Key, (IReadOnlyList<OutletKey>)[.. slip]),
        ];
        Pedestals = Points.ToDictionary(point => point, point => (IReadOnlyList<string>)[.. dock.Pedestals.Keys.Where(beyond[point].Contains)]);
    }

    /// <summary>The source first, and no point before the one that feeds it.</summary>
    public IReadOnlyList<string> Points { get; }

    /// <summary>For each point the pedestals that are fed through it, its own included.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<string>> Pedestals { get; }

    /// <summary>Each slip that has outlets here, with all of them.</summary>
    public IReadOnlyList<(string Slip, IReadOnlyList<OutletKey> Outlets)> OutletsOfSlips { get; }

    /// <summary>What feeds a point; null for the source.</summary>
    public string? Inner(string point) => inner.GetValueOrDefault(point);

    /// <summary>Cables between the source and a point.</summary>
    public int Depth(string point) => Path(point).Count() - 1;

    /// <summary>A point is fed through another one, or is that one.</summary>
    public bool IsBeyond(string through, string point) => beyond.TryGetValue(through, out var all) && all.Contains(point);

    /// <summary>The outermost point through which all of them are fed.</summary>
    public string Common(IReadOnlyCollection<string> pedestals) => Points.Last(point => pedestals.All(beyond[point].Contains));

    IEnumerable<string> Path(string point)
    {
        for (var at = point; at != null; at = inner.GetValueOrDefault(at))
            yield return at;
    }
}
