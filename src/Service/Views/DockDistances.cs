using Farberth.Monitoring.Site;

namespace Farberth.Service.Views;

/// <summary>How the pedestals of a dock stand along its cables: how far from the source, and in which runs.</summary>
public sealed class DockDistances
{
    readonly Dictionary<string, CableDefinition> inward;
    readonly DockDefinition dock;

    public DockDistances(DockDefinition dock)
    {
        this.dock = dock;
        inward = dock.Cables.ToDictionary(cable => cable.To);
        Runs = FindRuns();
        Pedestals = [.. Runs.SelectMany(run => run)];
    }

    /// <summary>
    /// Chains of pedestals, each outwards: first the one that leads to the furthest pedestal, then what branches off, the
    /// longest first. Every pedestal is in one run.
    /// </summary>
    public IReadOnlyList<IReadOnlyList<string>> Runs { get; }

    /// <summary>All pedestals, run after run.</summary>
    public IReadOnlyList<string> Pedestals { get; }

    /// <summary>Length of all cables from the source.</summary>
    public double Metres(string point) => Path(point).Sum(cable => cable.LengthMetres);

    /// <summary>The next pedestal towards the source, or the source itself.</summary>
    public string Before(string pedestal) =>
        Path(pedestal).Select(cable => cable.From).First(point => point == DockDefinition.SourcePoint || dock.Pedestals.ContainsKey(point));

    /// <summary>The cables from a point inwards to the source.</summary>
    public IEnumerable<CableDefinition> Path(string point)
    {
        while (inward.TryGetValue(point, out var cable))
        {
            yield return cable;
            point = cable.From;
        }
    }

    List<IReadOnlyList<string>> FindRuns()
    {
        var runs = new List<IReadOnlyList<string>>();
        var taken = new HashSet<string> { DockDefinition.SourcePoint };
        foreach (var end in dock.Pedestals.Keys.OrderByDescending(Metres).ThenBy(name => name, StringComparer.Ordinal))
        {
            var run = new List<string>();
            for (var at = end; taken.Add(at); at = Before(at))
                run.Add(at);
            run.Reverse();
            if (run.Count > 0)
                runs.Add(run);
        }
        return runs;
    }
}
