using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Outages;

/// <summary>
/// Finds where a dock has lost its supply, from who lost volts or fell silent together and who is still alive. A dead feeder is
/// one event, however many pedestals tell of it. One pedestal alone is no outage: its own alarms say all there is to say.
/// </summary>
sealed class OutageWatch(SiteDefinition site, DockDefinition dock, DockTree tree)
{
    /// <summary>One cause takes them within two reporting intervals (pedestals send at least twice a minute).</summary>
    static readonly TimeSpan Together = TimeSpan.FromSeconds(60);

    /// <summary>A reading from before the loss may come in so much after the first that tells of it (assumed).</summary>
    static readonly TimeSpan Lateness = TimeSpan.FromSeconds(2);

    // Half of nominal, as for the alarms that tell a lost supply from low volts.
    readonly Dictionary<string, PedestalSign> signs =
        dock.Pedestals.Keys.ToDictionary(name => name, _ => new PedestalSign(site.Supply.NominalVolts / 2));

    IReadOnlyList<Outage> last = [];
    DateTimeOffset recoveredAt = DateTimeOffset.MinValue;

    readonly IReadOnlyList<string> points = [.. tree.Points.Where(point => tree.Pedestals[point].Count > 1)];

    public DockOutages Tick(DockImage image)
    {
        Listen(image);
        if (last.Any(outage => outage.IsSettled && outage.Pedestals.Any(name => signs[name].AliveAt > outage.Since + Lateness)))
        {
            recoveredAt = image.Now;
            Listen(image);
        }
        var lost = 0;
        foreach (var sign in signs.Values)
            lost += sign.LostSince != null ? 1 : 0;
        last = lost < 2 ? [] : [.. Below(DockDefinition.SourcePoint)];
        return new(points, last);
    }

    void Listen(DockImage image)
    {
        foreach (var (name, pedestal) in image.Pedestals)
            signs[name].Take(pedestal, image.Now, recoveredAt);
    }

    IEnumerable<Outage> Below(string point) =>
        At(point) is { } outage ? [outage] : tree.Points.Where(outer => tree.Inner(outer) == point).SelectMany(Below);

    Outage? At(string point)
    {
        var all = tree.Pedestals[point];
        var lost = all.Where(name => signs[name].LostSince != null).ToList();
        if (lost.Count < 2)
            return null;
        var latest = lost.Max(name => signs[name].AliveAt);
        var together = lost.Where(name => latest - signs[name].AliveAt <= Together).ToList();
        var since = together.Min(name => signs[name].LostSince!.Value);
        if (together.Count < 2 || all.Except(lost).Any(name => signs[name].AliveAt > since + Lateness))
            return null;
        var common = tree.Common(lost);
        var fed = tree.Pedestals[common];
        return new(common, fed, since, [.. lost.SelectMany(name => signs[name].Dead).Distinct().Order()], IsSettled: lost.Count == all.Count);
    }

    public OutageMemory Memory() => new(last, recoveredAt, signs.ToDictionary(pair => pair.Key, pair => pair.Value.Memory()));

    public void Resume(OutageMemory memory)
    {
        (last, recoveredAt) = (memory.Last, memory.RecoveredAt);
        foreach (var (name, sign) in memory.Signs)
            signs[name].Resume(sign);
    }
}

sealed record OutageMemory(
    IReadOnlyList<Outage> Last, DateTimeOffset RecoveredAt, IReadOnlyDictionary<string, PedestalSignMemory> Signs);
