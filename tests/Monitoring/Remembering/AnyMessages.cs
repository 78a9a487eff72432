using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using CsCheck;
using Farberth.Monitoring.Remembering;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Remembering;

/// <summary>Whatever arrives and wherever it is cut: a monitor that goes on from its memory's bytes says the same bytes.</summary>
public class AnyMessages
{
    static readonly Gen<(string Topic, JsonObject Payload)> Said = Gen.OneOf(
        Reading(), Reading(), Reading(), Reading(),
        from celsius in Gen.Double[20, 40] select ("weather", new JsonObject { ["celsius"] = celsius }),
        from slip in Gen.Int[1, 3] from present in Gen.Bool select ($"slip/S{slip}/boat", new JsonObject { ["present"] = present }),
        from pedestal in Gen.Int[1, 3] from online in Gen.Bool select ($"pedestal/B{pedestal}/link", new JsonObject { ["online"] = online }),
        from place in Gen.OneOf(new[] { "B.B1.A.overload", "B.B2.B.overload", "B.B1.undervoltage", "B.B3.undervoltage", "B.transformer-overload", "B.leg-imbalance" }.Select(Gen.Const).ToArray())
        from verb in Gen.OneOf(new[] { "acknowledge", "shelve", "unshelve", "out-of-service", "return-to-service" }.Select(Gen.Const).ToArray())
        from minutes in Gen.Int[-1, 20]
        select ($"alarm/{place}/{verb}", new JsonObject { ["by"] = "Bo", ["reason"] = "known", ["until"] = TestDock.Start.AddMinutes(minutes).ToString("O") }));

    [Fact]
    public void May_be_cut_anywhere() =>
        Gen.Select(Said.Array[150, 400], Gen.Int[0, 399], Gen.Int[0, 900]).Sample((said, cut, gapSeconds) =>
        {
            SiteMonitor one = new(TestDock.Site), other = new(TestDock.Site);
            var now = TestDock.Start;
            for (var at = 0; at < said.Length; at++)
            {
                now = now.AddSeconds(at == said.Length / 2 ? gapSeconds : 1.7);
                Assert.Equal(Step(one, now, said[at]), Step(other, now, said[at]));
                if (at == cut % said.Length)
                    other = Restored(other);
            }
        }, iter: 12);

    public static SiteMonitor Restored(SiteMonitor monitor, SiteDefinition? site = null)
    {
        var read = SiteMemory.Read(monitor.Memory().ToBytes());
        Assert.Null(read.Problem);
        return new(site ?? monitor.Site, read.Memory!);
    }

    static string Step(SiteMonitor monitor, DateTimeOffset now, (string Topic, JsonObject Payload) said)
    {
        var output = new StringBuilder();
        foreach (var step in monitor.Advance(now))
        {
            foreach (var message in Outgoing.Of("marshpoint", step))
                output.Append(message.Topic).Append(' ').AppendLine(Encoding.UTF8.GetString(message.Payload.Span));
            foreach (var transition in step.Transitions)
                output.AppendLine(transition.Reason);
            output.AppendJoin(' ', step.Standing.Select(alarm => $"{alarm.Id} {alarm.State}")).AppendLine();
        }
        var payload = (JsonObject)said.Payload.DeepClone();
        payload["time"] = now.ToString("O");
        var decoded = monitor.Take(new(now, new($"farberth/v1/marshpoint/{said.Topic}", JsonSerializer.SerializeToUtf8Bytes(payload))));
        return output.AppendJoin(' ', decoded.Refusals.Select(refusal => refusal.Detail)).ToString();
    }

    static Gen<(string, JsonObject)> Reading() =>
        from pedestal in Gen.Int[1, 3] from volts in Gen.Double[100, 125].Array[2] from amps in Gen.Double[0, 45].Array[3] from closed in Gen.Int[0, 9]
        select ($"pedestal/B{pedestal}/reading", new JsonObject
        {
            ["volts"] = new JsonObject { ["L1"] = volts[0], ["L2"] = volts[1] },
            ["outlets"] = new JsonObject
            {
                ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps[0] }, ["celsius"] = 20 + 2 * amps[0], ["leakage-ma"] = amps[2], ["closed"] = closed > 0 },
                ["B"] = new JsonObject { ["amps"] = new JsonObject { ["L2"] = amps[1] }, ["watts"] = new JsonObject { ["L2"] = 100 * amps[1] } },
            },
        });
}
