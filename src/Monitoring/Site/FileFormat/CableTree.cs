using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Checks that the cables of one dock form one tree that begins at the source.</summary>
sealed class CableTree(IReadOnlyList<CableEnds> cables, ValueReader read)
{
    /// <summary>The first cable to each point.</summary>
    readonly Dictionary<string, CableEnds> _into = [];

    /// <param name="at">Place of the list of cables.</param>
    public void Check(Place at)
    {
        foreach (var cable in cables)
            Enter(cable);
        if (cables.Any(cable => cable.From is null || cable.To is null))
            return; // What hangs on an end that cannot be read is not cut off for certain.
        if (cables.All(cable => cable.From != DockDefinition.SourcePoint))
            read.Wrong(at, Sentence.Of("No cable begins at 'source'; write 'from: source' in the cable that leaves the panel."));
        foreach (var group in cables.GroupBy(cable => cable.From!))
            CheckBegin(group.Key, group.First());
        CheckLoops();
    }

    void Enter(CableEnds cable)
    {
        if (cable.To is null)
            return;
        if (cable.To == DockDefinition.SourcePoint)
            read.Wrong(cable.ToAt, Sentence.Of("A cable cannot lead to 'source', where the tree begins; swap 'from' and 'to'."));
        else if (!_into.TryAdd(cable.To, cable))
        {
            read.Wrong(cable.ToAt, Sentence.Of(
                "Two cables lead to '{0}', this and that of line {1}; a tree has one way to each point. Rename or remove one; for parallel cables use 'sets'.",
                cable.To, _into[cable.To].ToAt.Line));
        }
    }

    void CheckBegin(string point, CableEnds first)
    {
        if (point == DockDefinition.SourcePoint || _into.ContainsKey(point))
            return;
        var near = Spelling.Nearest(point, _into.Keys.Append(DockDefinition.SourcePoint));
        read.Wrong(first.FromAt, near is null ? Sentence.Of("No cable leads to '{0}', so it is cut off from 'source'; add that cable, or correct the name.", point)
            : Sentence.Of("No cable leads to '{0}', so it is cut off from 'source'; add that cable, or correct the name: did you mean '{1}'?", point, near));
    }

    // Each point has one cable into it, so a walk inward is a single path: it ends at the source, at a point without a
    // cable (reported above), on a path walked before, or on itself, which is a loop.
    void CheckLoops()
    {
        var walked = new HashSet<string>();
        foreach (var start in _into.Keys)
        {
            var path = new List<string>();
            var point = start;
            while (_into.TryGetValue(point, out var cable) && walked.Add(point))
            {
                path.Add(point);
                point = cable.From!;
            }
            var loopBegin = path.IndexOf(point);
            if (loopBegin >= 0)
                ReportLoop(path[loopBegin..]);
        }
    }

    /// <param name="inward">The points of the loop, each fed by the next.</param>
    void ReportLoop(List<string> inward)
    {
        var names = string.Join(" → ", inward.Append(inward[0]).Reverse());
        var first = inward.Select(point => _into[point]).MinBy(cable => (cable.ToAt.Line, cable.ToAt.Column))!;
        read.Wrong(first.ToAt, Sentence.Of("The cables {0} form a loop without the source; let one of them begin elsewhere.", names));
    }
}
