using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Wire;

/// <summary>The payloads of the contract, member by member: others' scripts rely on these names.</summary>
public class OutgoingTests
{
    readonly TestDock dock = new();

    [Fact]
    public void The_state_of_a_dock_has_the_members_that_others_rely_on()
    {
        dock.Say("B3", 116, 121, ("A", Leg.L1, 25)).Run(TimeSpan.FromSeconds(11));
        var message = Outgoing.Of("marshpoint", dock.Last).First();
        Assert.Equal("farberth/v1/marshpoint/dock/B/state", message.Topic);
        Assert.True(message.Retain);
        var state = JsonNode.Parse(message.Payload.Span)!.AsObject();
        Assert.Equal(["time", "dock", "source", "transformer", "fit", "pedestals", "cables", "alarms"], state.Select(member => member.Key));
        Assert.Equal("2027-07-17T18:00:10.000Z", (string?)state["time"]);
        Assert.Equal(["L1", "L2"], Keys(state["source"]));
        Assert.Equal(["kva", "load", "hot-spot", "ageing"], Keys(state["transformer"]));
        Assert.Equal(["volts", "sd", "amps", "amps-sd"], Keys(state["pedestals"]!["B3"]!["L1"]));
        Assert.Equal(["load", "L1", "L2", "N"], Keys(state["cables"]!["B3"]));
        Assert.Equal(["amps", "amps-sd", "drop"], Keys(state["cables"]!["B3"]!["N"]));
        Assert.Equal(25, (double)state["cables"]!["B3"]!["L1"]!["amps"]!, 0.1);
    }

    [Fact]
    public void An_alarm_has_the_members_that_others_rely_on_and_goes_when_it_is_over()
    {
        dock.Say("B3", 116, 121, ("A", Leg.L1, 25)).Run(TimeSpan.FromSeconds(61));
        var message = Assert.Single(Outgoing.Of("marshpoint", dock.Last), m => m.Topic.Contains("alarm"));
        Assert.Equal("farberth/v1/marshpoint/alarm/B.B3.A.overload", message.Topic);
        Assert.True(message.Retain);
        var alarm = JsonNode.Parse(message.Payload.Span)!.AsObject();
        Assert.Equal(
            ["id", "kind", "state", "priority", "since", "dock", "pedestal", "outlet", "slip", "for", "message", "said", "evidence", "caution", "first-up"],
            alarm.Select(member => member.Key));
        Assert.Equal("unacknowledged", (string?)alarm["state"]);
        Assert.Equal(["electrician", "harbormaster", "boater"], alarm["for"]!.AsArray().Select(who => (string?)who));

        dock.Hear(new Acknowledgement(dock.Now, "B.B3.A.overload", "Ines")).Say("B3", 120, 120);
        for (var second = 0; second < 60; second++)
        {
            dock.Run(TimeSpan.FromSeconds(1));
            if (Outgoing.Of("marshpoint", dock.Last).SingleOrDefault(m => m.Topic.Contains("alarm") && m.Payload.IsEmpty) is { Retain: true })
                return;
        }
        Assert.Fail("no empty retained payload after the alarm was back to normal");
    }

    [Fact]
    public void Nothing_goes_out_before_the_first_whole_image()
    {
        dock.Says.Remove("B2");
        dock.Run(TimeSpan.FromSeconds(11));
        Assert.Empty(Outgoing.Of("marshpoint", dock.Last));
    }

    static IEnumerable<string> Keys(JsonNode? node) => node!.AsObject().Select(member => member.Key);
}
