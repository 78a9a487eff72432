using System.Text.Json;
using System.Text.Json.Nodes;
using CsCheck;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Site;

/// <summary>A message may be well formed and still be nonsense: whatever it says, the watch goes on.</summary>
public class AbsurdReadings
{
    static readonly Gen<double> Extreme = Gen.OneOf(
        Gen.OneOf(new double[] { 0, 1e-300, 1e-9, 0.5, 1.0, 1.5, 60, 119.9, 359.9, 1e3, 99_999, 1e6, 1e12, 1e160, 1e308 }.Select(Gen.Const).ToArray()),
        Gen.Double[0, 400]);

    static readonly Gen<string> Time = Gen.OneOf(
        Gen.OneOf(new[] { "0001-01-01T00:00:00Z", "1970-01-01T00:00:00Z", "1999-12-31T23:59:59+14:00" }.Select(Gen.Const).ToArray()),
        Gen.Int[-100_000, 250].Select(seconds => TestDock.Start.AddSeconds(seconds).ToString("O")));

    static readonly Gen<(string Topic, JsonObject Payload)> Message = Gen.OneOf(
        from pedestal in Gen.Int[1, 3] from time in Time from n in Extreme.Array[6] from closed in Gen.Bool
        select ($"pedestal/B{pedestal}/reading", new JsonObject
        {
            ["time"] = time,
            ["volts"] = new JsonObject { ["L1"] = n[0], ["L2"] = n[1] },
            ["outlets"] = new JsonObject
            {
                ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = n[2] }, ["watts"] = new JsonObject { ["L1"] = n[3] }, ["leakage-ma"] = n[4], ["closed"] = closed },
                ["B"] = new JsonObject { ["amps"] = new JsonObject { ["L2"] = n[5] }, ["celsius"] = n[4], ["leakage-ma"] = n[3] },
            },
        }),
        from time in Time from celsius in Extreme from cold in Gen.Bool
        select ("weather", new JsonObject { ["time"] = time, ["celsius"] = cold ? -celsius : celsius }),
        from time in Time from slip in Gen.Int[1, 3] from present in Gen.Bool
        select ($"slip/S{slip}/boat", new JsonObject { ["time"] = time, ["present"] = present }));

    [Fact]
    public void Nothing_that_arrives_takes_the_watch_down_and_every_output_can_be_written() =>
        Message.Array[1, 25].Sample(messages =>
        {
            var monitor = new SiteMonitor(TestDock.Site);
            for (var at = 0; at < messages.Length; at++)
                Take(monitor, TestDock.Start.AddSeconds(2 * at), messages[at]);
            Write(monitor.Advance(TestDock.Start.AddSeconds(150)));
        }, iter: 50);

    [Fact]
    public void After_the_nonsense_the_dock_is_seen_as_before() =>
        Message.Where(message => message.Topic.EndsWith("/reading", StringComparison.Ordinal)).Array[12].Sample(messages =>
        {
            var (plain, disturbed) = (new DockMonitor(TestDock.Site, TestDock.Site.Docks["B"]), new DockMonitor(TestDock.Site, TestDock.Site.Docks["B"]));
            var decoder = new InboundDecoder(TestDock.Site);
            foreach (var (message, at) in messages.Select((message, at) => (message, TestDock.Start.AddSeconds(20 * at))))
            {
                if (decoder.Decode(Wire(message), at).Value is { } inbound)
                    disturbed.Take(inbound, at);
                disturbed.Step(at);
            }
            var (one, other) = (Settled(plain), Settled(disturbed));
            foreach (var (name, pedestal) in one.Pedestals)
                foreach (var leg in pedestal.Volts.Legs)
                    Assert.Equal(pedestal.Volts[leg], other.Pedestals[name].Volts[leg], 0.2);
        }, iter: 12);

    /// <summary>After twelve hours of an ordinary reading every minute.</summary>
    static DockEstimate Settled(DockMonitor monitor)
    {
        DockStep last = null!;
        for (var minute = 10; minute < 12 * 60; minute++)
        {
            var at = TestDock.Start.AddMinutes(minute);
            foreach (var pedestal in new[] { "B1", "B2", "B3" })
                monitor.Take(TestDock.Reading(pedestal, 119, 119, ("A", Leg.L1, 4), ("B", Leg.L2, 4)) with { Time = at }, at);
            last = monitor.Step(at);
        }
        return last.Picture.Estimate;
    }

    static WireMessage Wire((string Topic, JsonObject Payload) message) =>
        new($"farberth/v1/marshpoint/{message.Topic}", JsonSerializer.SerializeToUtf8Bytes(message.Payload));

    static void Take(SiteMonitor monitor, DateTimeOffset at, (string Topic, JsonObject Payload) message)
    {
        Write(monitor.Advance(at));
        monitor.Take(new(at, Wire(message)));
    }

    static void Write(IEnumerable<DockStep> steps)
    {
        foreach (var step in steps)
        {
            Assert.All(Outgoing.Of("marshpoint", step), message => Assert.StartsWith("farberth/v1/", message.Topic));
            Assert.All(step.Transitions, transition => Assert.NotEmpty(AlarmJson.Of(transition)));
        }
    }
}
