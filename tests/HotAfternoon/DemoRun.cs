using System.Text.Json;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>One run of the demo scenario, minute by minute, shared by the tests of its shape.</summary>
public sealed class DemoRun
{
    static readonly Leg[] Legs = [Leg.L1, Leg.L2];

    public DemoRun()
    {
        var decoder = new InboundDecoder(Given.Site("scenarios/kestrel-cove.site.yaml"));
        foreach (var step in Given.Demo().Steps())
        {
            var dock = step.Truth.Docks["H"];
            foreach (var message in step.Arrived)
            {
                Count(message.Message.Topic, message.Message.Payload);
                if (decoder.Decode(message.Message, message.At) is not { Value: not null, Refusals.Count: 0 })
                    NotTaken.Add(message);
            }
            foreach (var outlet in dock.OpenOutlets)
                FirstOpen.TryAdd(outlet, step.Truth.Local.TimeOfDay);
            foreach (var leg in Legs)
                SecondsBelow108[(int)leg] += dock.Volts("H18", leg) < 108 ? 1 : 0;
            if (step.Truth.Local.Second == 0)
                Minutes.Add(Snapshot(step.Truth.Local.TimeOfDay, dock));
        }
    }

    public List<DockMinute> Minutes { get; } = [];

    public Dictionary<string, TimeSpan> FirstOpen { get; } = [];

    public int[] SecondsBelow108 { get; } = new int[2];

    public HashSet<string> Topics { get; } = [];

    public HashSet<string> Members { get; } = [];

    /// <summary>What the service's own decoder refuses or ignores.</summary>
    public List<RecordedMessage> NotTaken { get; } = [];

    public int Readings { get; private set; }

    public IEnumerable<DockMinute> Between(string from, string until) => Minutes.Where(minute =>
        minute.At >= TimeSpan.Parse(from, null) && minute.At < TimeSpan.Parse(until, null));

    void Count(string topic, ReadOnlyMemory<byte> payload)
    {
        Topics.Add(topic);
        Readings += topic.EndsWith("/reading", StringComparison.Ordinal) ? 1 : 0;
        using var document = JsonDocument.Parse(payload);
        Collect(document.RootElement, topic.Split('/')[^1]);
    }

    void Collect(JsonElement element, string path)
    {
        if (element.ValueKind != JsonValueKind.Object)
            return;
        foreach (var member in element.EnumerateObject())
        {
            var name = path == "reading/outlets" ? "*" : member.Name;
            Members.Add($"{path}/{name}");
            Collect(member.Value, $"{path}/{name}");
        }
    }

    static DockMinute Snapshot(TimeSpan at, DockTruth dock)
    {
        var tree = dock.Solution.Tree;
        string[] pedestals = [.. tree.Names.Where((_, node) => node > 0 && !tree.IsCord(node))];
        string[] outlets = [.. tree.Names.Where((_, node) => tree.IsCord(node))];
        return new DockMinute(
            at,
            pedestals.ToDictionary(name => name, name => Legs.Select(leg => dock.Volts(name, leg)).ToArray()),
            outlets.ToDictionary(
                name => name,
                name => Legs.Max(leg => dock.OutletAmps(new OutletName(name.Split('.')[0], name.Split('.')[1]), leg))),
            [.. Legs.Select(leg => dock.CableAmps("F1", leg))]);
    }
}

/// <param name="Volts">By pedestal, L1 then L2.</param>
/// <param name="OutletAmps">The larger leg, by outlet.</param>
/// <param name="FingerAmps">Into the finger pier, L1 then L2.</param>
public sealed record DockMinute(
    TimeSpan At, IReadOnlyDictionary<string, double[]> Volts, IReadOnlyDictionary<string, double> OutletAmps,
    double[] FingerAmps);
