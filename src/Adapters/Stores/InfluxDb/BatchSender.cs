namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>
/// Sends one batch. Where the server does not take it for its lines, the lines are sent in two halves, every other line in
/// each, and so on down to those that are at fault. Every other line, so that a run of bad lines is soon seen beside good ones.
///
/// Where many lines are refused and not one is taken, the lines are not at fault but what all have in common: then none is
/// set aside, and the batch is sent again later.
/// </summary>
sealed class BatchSender(InfluxServer server, SetAside setAside)
{
    // So many refused lines without a good one are no accident.
    const int NoAccident = 64;

    readonly List<(string Line, string Problem)> refused = [];
    int taken;

    public async Task<WriteOutcome> Send(IReadOnlyList<string> lines, CancellationToken stop)
    {
        refused.Clear();
        taken = 0;
        var outcome = await Halve(lines, stop).ConfigureAwait(false);
        if (outcome.Status != WriteStatus.Accepted)
            return outcome;
        if (taken == 0 && refused.Count > 1)
            return new WriteOutcome(WriteStatus.Refused, $"not one line is taken: {refused[0].Problem}");
        foreach (var (line, _) in refused)
            if (await Confirm(line, stop).ConfigureAwait(false) is { Status: not WriteStatus.Accepted } failed)
                return failed;
        return outcome;
    }

    /// <summary>Once more, now that others have been taken: what was wrong for all of them may have been put right meanwhile.</summary>
    async Task<WriteOutcome> Confirm(string line, CancellationToken stop)
    {
        var outcome = await server.Write([line], stop).ConfigureAwait(false);
        if (outcome.Status != WriteStatus.BadLines)
            return outcome;
        setAside.Add(line, outcome.Problem);
        return new WriteOutcome(WriteStatus.Accepted);
    }

    async Task<WriteOutcome> Halve(IReadOnlyList<string> lines, CancellationToken stop)
    {
        var outcome = await server.Write(lines, stop).ConfigureAwait(false);
        if (outcome.Status == WriteStatus.Accepted)
            taken += lines.Count;
        if (outcome.Status != WriteStatus.BadLines)
            return outcome;
        if (lines.Count > 1)
        {
            var first = await Halve(EveryOther(lines, 0), stop).ConfigureAwait(false);
            return first.Status != WriteStatus.Accepted ? first : await Halve(EveryOther(lines, 1), stop).ConfigureAwait(false);
        }
        refused.Add((lines[0], outcome.Problem));
        return taken == 0 && refused.Count >= NoAccident
            ? new WriteOutcome(WriteStatus.Refused, $"not one of {NoAccident} lines is taken: {outcome.Problem}")
            : new WriteOutcome(WriteStatus.Accepted);
    }

    static List<string> EveryOther(IReadOnlyList<string> lines, int from)
    {
        var half = new List<string>(lines.Count / 2 + 1);
        for (var i = from; i < lines.Count; i += 2)
            half.Add(lines[i]);
        return half;
    }
}
