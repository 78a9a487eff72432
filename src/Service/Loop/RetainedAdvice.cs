using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Service.Loop;

/// <summary>
/// Requests to boaters that the broker still holds from an earlier run. Once every dock has been judged, those of slips of which nothing
/// is asked now are taken away with an empty payload: nobody watches over them any more.
/// </summary>
sealed class RetainedAdvice(SiteDefinition site)
{
    readonly Dictionary<string, DockStep> judged = [];
    readonly SortedSet<string> held = new(StringComparer.Ordinal);

    public void Take(WireMessage message)
    {
        if (message is { Retain: true, Payload.IsEmpty: false } && site.Slips.Keys.Any(slip => message.Topic == Outgoing.AdviceTopic(site.Name, slip)))
            held.Add(message.Topic);
    }

    /// <summary>What is to be taken away after this step; nothing before every dock has been judged.</summary>
    public IEnumerable<WireMessage> Outdated(DockStep step)
    {
        if (step.Picture.Image.IsWhole)
            judged[step.Picture.Dock.Name] = step;
        if (held.Count == 0 || judged.Count < site.Docks.Count)
            return [];
        var standing = judged.Values.SelectMany(latest => latest.Advice.Standing).Select(advice => Outgoing.AdviceTopic(site.Name, advice.Slip)).ToHashSet();
        var outdated = held.Where(topic => !standing.Contains(topic)).ToList();
        held.Clear();
        return outdated.Select(topic => new WireMessage(topic, ReadOnlyMemory<byte>.Empty, Retain: true));
    }
}
