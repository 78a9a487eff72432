using System.Text;
using System.Text.Json.Nodes;
using CsCheck;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Site;

public class SiteMonitorTests
{
    [Fact]
    public void Ticks_stand_on_whole_seconds_and_each_is_taken_once()
    {
        var monitor = new SiteMonitor(TestDock.Site);
        Assert.Equal([0], Ticks(monitor, 0.4));
        Assert.Empty(Ticks(monitor, 0.9));
        Assert.Equal([1, 2, 3], Ticks(monitor, 3));
        Assert.Empty(Ticks(monitor, 2));
        Assert.Equal([100_000], Ticks(monitor, 100_000.7)); // after a long gap only the last
        Assert.Equal([4], Ticks(monitor, 4.2)); // a clock set back goes on from there
        Assert.Equal([5], Ticks(monitor, 5));
    }

    /// <summary>The same messages give the same bytes, whatever ran before and however time is cut into calls.</summary>
    [Fact]
    public void It_is_deterministic()
    {
        Gen.Select(Gen.Int[0, 1000], Gen.Double[0.1, 7]).Sample((seed, stride) =>
        {
            var messages = Messages(new Random(seed)).ToList();
            Assert.Equal(Run(messages, 1), Run(messages, stride));
        }, iter: 20);
    }

    [Fact]
    public void Refusals_are_counted_and_what_is_good_goes_on()
    {
        var monitor = new SiteMonitor(TestDock.Site);
        monitor.Take(new(TestDock.Start, new("farberth/v1/marshpoint/pedestal/B1/reading", "{oops"u8.ToArray())));
        monitor.Take(new(TestDock.Start, new("farberth/v1/marshpoint/pedestal/B9/reading", "{}"u8.ToArray())));
        monitor.Take(new(TestDock.Start, new("farberth/v1/marshpoint/nowhere", "{}"u8.ToArray())));
        monitor.Take(Message(0, "B1", 117.5, 12));
        Assert.Equal(
            [RefusalReason.NotJson, RefusalReason.UnknownTopic, RefusalReason.UnknownPedestal],
            monitor.Refusals.Snapshot().Keys);
        var step = monitor.Advance(TestDock.Start).Single();
        Assert.Equal(117.5, step.Picture.Image.Pedestals["B1"].Latest!.Volts.L1);
    }

    static List<double> Ticks(SiteMonitor monitor, double seconds) =>
        [.. monitor.Advance(TestDock.Start.AddSeconds(seconds)).Select(step => (step.Now - TestDock.Start).TotalSeconds)];

    static string Run(List<RecordedMessage> messages, double strideSeconds)
    {
        var monitor = new SiteMonitor(TestDock.Site);
        var output = new StringBuilder();
        void Advance(DateTimeOffset to)
        {
            foreach (var step in monitor.Advance(to))
                foreach (var message in Outgoing.Of("marshpoint", step))
                    output.Append(message.Topic).Append(' ').AppendLine(Encoding.UTF8.GetString(message.Payload.Span));
        }
        var clock = TestDock.Start;
        foreach (var message in messages)
        {
            for (; clock < message.At; clock = clock.AddSeconds(strideSeconds))
                Advance(clock);
            Advance(message.At);
            monitor.Take(message);
        }
        Advance(messages[^1].At.AddSeconds(10));
        Assert.Contains("overload", output.ToString());
        return output.ToString();
    }

    static IEnumerable<RecordedMessage> Messages(Random random)
    {
        for (var second = 0.0; second < 180; second += 2 * random.NextDouble())
            yield return Message(second, $"B{random.Next(1, 4)}", 105 + 15 * random.NextDouble(), 25 + 8 * random.NextDouble());
    }

    static RecordedMessage Message(double second, string pedestal, double volts, double amps)
    {
        var at = TestDock.Start.AddSeconds(second);
        var payload = new JsonObject
        {
            ["time"] = at.ToString("O"),
            ["volts"] = new JsonObject { ["L1"] = volts, ["L2"] = volts },
            ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
        }.ToJsonString();
        return new(at, new($"farberth/v1/marshpoint/pedestal/{pedestal}/reading", Encoding.UTF8.GetBytes(payload)));
    }
}
