using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Loop;

/// <summary>
/// Alarms that the broker still holds from an earlier run. Once every dock has been judged, those that do not stand are
/// taken away with an empty payload, so that nobody acts on what is over.
/// </summary>
sealed class RetainedAlarms(SiteDefinition site)
{
    readonly string prefix = $"farberth/v1/{site.Name}/alarm/";
    readonly Dictionary<string, DockStep> judged = [];
    readonly SortedSet<string> held = new(StringComparer.Ordinal);

    public void Take(WireMessage message)
    {
        if (message is { Retain: true, Payload.IsEmpty: false } && message.Topic.StartsWith(prefix, StringComparison.Ordinal)
            && !message.Topic[prefix.Length..].Contains('/', StringComparison.Ordinal))
            held.Add(message.Topic);
    }

    /// <summary>What is to be taken away after this step; nothing before every dock has been judged.</summary>
    public IEnumerable<WireMessage> Outdated(DockStep step)
    {
        if (step.Picture.Image.IsWhole)
            judged[step.Picture.Dock.Name] = step;
        if (held.Count == 0 || judged.Count < site.Docks.Count)
            return [];
        var standing = judged.Values.SelectMany(latest => latest.Standing).Select(alarm => prefix + alarm.Id).ToHashSet();
        var outdated = held.Where(topic => !standing.Contains(topic)).ToList();
        held.Clear();
        return outdated.Select(topic => new WireMessage(topic, ReadOnlyMemory<byte>.Empty, Retain: true));
    }
}
