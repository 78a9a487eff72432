using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>One pedestal's meter: reads the truth with its own errors and sends it with the errors of its link.</summary>
/// <remarks>
/// Readings fall due every so often from an offset of the pedestal's own, so that a dock does not speak in chorus; each
/// shows the step it falls into. What is not sent still counts in seq.
/// </remarks>
sealed class PedestalMeter
{
    readonly DockRun dock;
    readonly int node;
    readonly IReadOnlyList<Leg> legs;
    readonly MeterChannel[] volts;
    readonly MeteredOutlet[] outlets;
    readonly PedestalLink link;
    readonly Func<DateTime, DateTimeOffset> utc;
    readonly TimeSpan every;
    DateTime due;
    long seq;

    public PedestalMeter(
        string pedestal, DockRun dock, Scenario scenario, Topics topics, Func<DateTime, DateTimeOffset> utc,
        MessagesUnderWay arrivals)
    {
        (this.dock, this.utc, every) = (dock, utc, scenario.Meters.Every);
        var random = new NamedRandom(scenario.Seed, "meter", pedestal);
        var plan = scenario.Meters;
        legs = dock.Topology.Supply.Legs;
        node = dock.Now.Tree.IndexOf(pedestal);
        volts = [.. legs.Select(_ => new MeterChannel(Gain(plan, random), plan.VoltsNoise, 0, random))];
        outlets = [.. dock.Outlets
            .Where(outlet => outlet.Name.Pedestal == pedestal)
            .Select(outlet => new MeteredOutlet(outlet, plan, random))];
        seq = (long)random.Between(0, 100_000);
        due = scenario.Start + TimeSpan.FromMilliseconds(Math.Floor(random.Between(0, every.TotalMilliseconds)));
        link = new PedestalLink(
            pedestal, scenario, topics, utc, arrivals, new NamedRandom(scenario.Seed, "link", pedestal));
    }

    /// <summary>Sends the readings that fall due before a local moment.</summary>
    public void Step(DateTime until)
    {
        for (; due < until; due += every)
            link.SendReading(due, Payload(utc(due), seq++));
    }

    public static double Gain(MeterPlan plan, NamedRandom random) => 1 + plan.GainError * random.Normal();

    ReadOnlyMemory<byte> Payload(DateTimeOffset time, long number) => Json.Object(writer =>
    {
        writer.WriteTime(time);
        writer.WriteNumber("seq", number);
        writer.WriteStartObject("volts");
        foreach (var leg in legs)
            writer.WriteRounded(leg.ToString(), volts[(int)leg].Read(dock.Now.ToNeutral(node, (int)leg).Magnitude), 1);
        writer.WriteEndObject();
        writer.WriteStartObject("outlets");
        foreach (var outlet in outlets)
            outlet.Write(writer, dock.Now, node);
        writer.WriteEndObject();
    });
}
