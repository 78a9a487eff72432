using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Advice;

/// <summary>What is asked of a slip, how it goes on and how it ends. Overloads count after a minute on the test's dock.</summary>
public class RequestTests
{
    readonly TestDock dock = new();
    readonly List<AdviceChange> changes = [];

    [Fact]
    public void A_quiet_dock_asks_nobody()
    {
        Run(30);
        Assert.Empty(changes);
    }

    [Fact]
    public void An_outlet_past_its_limit_is_asked_for_what_brings_it_back_with_margin()
    {
        dock.Say("B2", 117, 120, ("A", Leg.L1, 28));
        Run(2);
        var asked = Assert.Single(changes).Advice;
        Assert.Equal((Ask.Shed, "S2", 5.5), (asked.Ask, asked.Slip, asked.Amps)); // 24 A less 5 % is 22.8 A: 5.2 A, in half amps
        Assert.Equal(asked.Time + TimeSpan.FromMinutes(30), asked.Until);
        Assert.Contains("Please switch off about 5.5 A until 15:3", asked.Message);
        Assert.Contains("a battery charger takes about 5 A, a water heater 12 A", asked.Message);
        Assert.Contains("outlet A of pedestal B2", asked.Message);
        Assert.Contains("A cord comes off only after everything on it is switched off", asked.Message);
        Assert.Equal("outlet A of pedestal B2 carries 28.0 A; for hours it should carry no more than 24 A", asked.Why);
    }

    [Fact]
    public void What_is_over_before_the_alarms_delay_asks_nobody()
    {
        dock.Say("B2", 117, 120, ("A", Leg.L1, 28));
        Run(0.8);
        dock.Say("B2", 119, 120, ("A", Leg.L1, 10));
        Run(5);
        Assert.Empty(changes);
    }

    [Fact]
    public void A_request_on_the_wire_is_that_of_the_contract_and_goes_when_the_dock_can_carry_it_again()
    {
        dock.Say("B2", 117, 120, ("A", Leg.L1, 28));
        var wire = Wire(2);
        var (topic, payload) = Assert.Single(wire);
        Assert.Equal("farberth/v1/marshpoint/slip/S2/advice", topic);
        Assert.Equal(["time", "slip", "ask", "amps", "message", "until", "why"], JsonNode.Parse(payload)!.AsObject().Select(member => member.Key));
        Assert.Equal("shed", (string?)JsonNode.Parse(payload)!["ask"]);
        dock.Say("B2", 119, 120, ("A", Leg.L1, 8));
        Assert.Equal([(topic, "")], Wire(15));
        Assert.Empty(dock.Last.Advice.Standing);
    }

    [Fact]
    public void Another_outlet_near_its_own_limit_holds_no_request()
    {
        dock.Say("B2", 117, 120, ("A", Leg.L1, 28)).Say("B3", 117, 120, ("A", Leg.L1, 23.5));
        Run(2);
        Assert.Equal("S2", Assert.Single(changes).Slip);
        dock.Say("B2", 119, 120, ("A", Leg.L1, 8)).Say("B3", 118, 120, ("A", Leg.L1, 23.5));
        Run(15);
        Assert.NotNull(changes.Last().TakenBack);
    }

    [Fact]
    public void It_stands_while_what_was_switched_off_would_be_too_much_again_and_is_renewed_at_its_interval()
    {
        dock.Say("B2", 117, 120, ("A", Leg.L1, 28));
        Run(5);
        dock.Say("B2", 118, 120, ("A", Leg.L1, 22));
        Run(60);
        Assert.Equal([0, 30, 60], changes.Select(change => Math.Round((change.At - changes[0].At).TotalMinutes)));
        Assert.All(changes, change => Assert.Null(change.TakenBack));
    }

    [Fact]
    public void Who_does_not_answer_is_given_up_after_the_patience_and_left_alone()
    {
        dock.Say("B2", 117, 120, ("A", Leg.L1, 28));
        Run(60);
        Assert.Equal(2, changes.Count);
        Assert.Equal(TimeSpan.FromMinutes(10), changes[1].At - changes[0].At);
        Assert.Contains("have not fallen", changes[1].TakenBack);
        Assert.Contains(dock.Last.Advice.NotEnough, one => one.Limit.Contains("B2")); // nobody else can help that outlet
    }

    /// <summary>Others could lower its amps a little by lifting its volts; they are left alone.</summary>
    [Fact]
    public void For_an_outlets_own_limit_nobody_else_is_asked()
    {
        dock.Say("B2", 116, 120, ("A", Leg.L1, 28)).Say("B1", 118, 120, ("A", Leg.L1, 20)).Say("B3", 115.5, 120, ("A", Leg.L1, 20), ("B", Leg.L2, 3));
        Run(20);
        Assert.Equal(["S2"], changes.Select(change => change.Slip).Distinct());
    }

    /// <summary>The far end of L1 is low; both far slips can help, the nearer one less per amp.</summary>
    [Fact]
    public void The_next_is_asked_when_the_first_does_nothing()
    {
        LowFarEnd();
        Run(4);
        var first = Assert.Single(changes).Slip;
        Run(12);
        Assert.Equal([first, first], changes.Take(2).Select(change => change.Slip));
        Assert.NotNull(changes[1].TakenBack);
        Assert.NotEqual(first, changes[2].Slip);
        Assert.Null(changes[2].TakenBack);
    }

    [Fact]
    public void Nobody_is_asked_more_often_than_the_interval()
    {
        LowFarEnd();
        for (var minute = 0; minute < 100; minute++)
        {
            dock.Say("B2", 109, 119, ("A", Leg.L1, 15 + 7 * (minute % 2)));
            Run(1);
        }
        foreach (var slip in changes.Where(change => change.TakenBack == null).GroupBy(change => change.Slip))
            Assert.All(slip.Zip(slip.Skip(1)), pair => Assert.True(pair.Second.At - pair.First.At >= TimeSpan.FromMinutes(30)));
    }

    [Fact]
    public void Nobody_is_asked_for_what_he_needs()
    {
        dock.Say("B2", 119, 120, ("A", Leg.L1, 6));
        Run(140); // for hours it never draws less than 6 A
        dock.Say("B1", 114, 119).Say("B2", 110, 119, ("A", Leg.L1, 7)).Say("B3", 107, 119, ("A", Leg.L1, 20), ("B", Leg.L2, 3));
        Run(4);
        Assert.DoesNotContain("S2", changes.Select(change => change.Slip));
        Assert.Contains("S3", changes.Select(change => change.Slip));
        Assert.All(changes, change => Assert.InRange(change.Advice.Amps, 2, 0.7 * 20));
    }

    [Fact]
    public void What_requests_cannot_bring_back_is_told_to_the_harbormaster()
    {
        dock.Say("B1", 103, 119).Say("B2", 103, 119, ("A", Leg.L1, 4)).Say("B3", 102.5, 119, ("A", Leg.L1, 4));
        Run(4);
        Assert.Contains(dock.Last.Advice.NotEnough, one => one.Limit.StartsWith("pedestal B3 has 10", StringComparison.Ordinal));
        Assert.All(dock.Last.Advice.NotEnough, one => Assert.InRange(one.Share, 0.01, 0.06));
    }

    [Fact]
    public void A_spare_outlet_of_the_same_slip_is_the_second_cord()
    {
        dock.Say("B3", 116, 120, ("A", Leg.L1, 28));
        Run(2);
        var asked = Assert.Single(changes).Advice;
        Assert.Equal((Ask.SecondCord, "S3", 5.5), (asked.Ask, asked.Slip, asked.Amps));
        Assert.Contains("outlet B of pedestal B3 is yours too and carries nothing", asked.Message);
        Assert.Contains("Loads off and both breakers off before you plug in", asked.Message);
    }

    [Fact]
    public void A_second_cord_on_a_leg_that_has_no_room_is_not_asked_for()
    {
        dock.Say("B3", 112, 107, ("A", Leg.L1, 28)).Say("B2", 114, 108.5, ("B", Leg.L2, 35));
        Run(2);
        Assert.DoesNotContain(Ask.SecondCord, changes.Select(change => change.Advice.Ask));
        Assert.Contains(changes, change => change is { Slip: "S3", Advice.Ask: Ask.Shed });
    }

    /// <summary>Two boats on one leg of one pedestal help alike. One is asked on the first afternoon, the other on the next.</summary>
    [Fact]
    public void Who_was_asked_before_is_left_alone_when_another_helps_alike()
    {
        var asked = new List<string>();
        var monitor = new DockMonitor(Pair, Pair.Docks["P"]);
        var now = TestDock.Start;
        foreach (var (amps, minutes) in new[] { (26.0, 3), (12, 45), (26, 3) })
            for (var second = 0; second < 60 * minutes; second += 10, now += TimeSpan.FromSeconds(10))
            {
                // 120.5 V at no load and some 0.23 ohm out and back: 26 A each are 108 V.
                monitor.Take(new Reading(now, "P1", null, new(120.5 - 0.48 * amps / 2 * 2, 121, double.NaN), new[] { "A", "B" }.ToDictionary(name => name, _ =>
                    new OutletReading(PerLeg.None.With(Leg.L1, amps), PerLeg.None, null, null, true))), now);
                asked.AddRange(monitor.Step(now).Advice.Changes.Where(change => change.TakenBack == null).Select(change => change.Slip));
            }
        Assert.Equal(["X", "Y"], asked);
    }

    static readonly SiteDefinition Pair = TestDock.Read("""
        site: twoberths
        timezone: UTC
        supply: 120/240 V single-phase 3-wire
        docks:
          P:
            source: { no-load: 120.5 V }
            cables: [{ from: source, to: P1, length: 200 m, conductor: 1/0 AWG Al, raceway: pvc, ampacity: 400 A }]
            pedestals: { P1: { outlets: { A: { rating: 50 A, legs: [L1], slip: X }, B: { rating: 50 A, legs: [L1], slip: Y } } } }
        slips: { X: {}, Y: {} }
        """);

    void LowFarEnd() => dock.Say("B1", 113, 119).Say("B2", 109, 119, ("A", Leg.L1, 22)).Say("B3", 107.2, 119, ("A", Leg.L1, 22), ("B", Leg.L2, 3));

    void Run(double minutes) => Wire(minutes);

    List<(string Topic, string Payload)> Wire(double minutes)
    {
        var wire = new List<(string, string)>();
        for (var second = 0; second < 60 * minutes; second++)
        {
            dock.Run(TimeSpan.FromSeconds(1));
            changes.AddRange(dock.Last.Advice.Changes);
            wire.AddRange(Outgoing.Of("marshpoint", dock.Last).Where(message => message.Topic.EndsWith("/advice", StringComparison.Ordinal))
                .Select(message => (message.Topic, System.Text.Encoding.UTF8.GetString(message.Payload.Span))));
        }
        return wire;
    }
}
