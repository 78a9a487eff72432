using System.Text;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Remembering;

/// <summary>The service was away for a while, or its clock was set. Readings each ten seconds from every pedestal that speaks.</summary>
public class Away
{
    readonly HashSet<string> speaking = ["B1", "B2", "B3"];
    readonly Dictionary<string, double> amps = new() { ["B1"] = 5, ["B2"] = 5, ["B3"] = 5 };
    readonly List<AlarmTransition> transitions = [];
    readonly List<DateTimeOffset> sent = [];
    SiteMonitor monitor = new(TestDock.Site);
    DateTimeOffset now = TestDock.Start;
    DockStep? last;

    [Theory]
    [InlineData(60)]
    [InlineData(3600)]
    [InlineData(30 * 24 * 3600)]
    public void Time_away_is_not_the_pedestals_silence(int seconds)
    {
        Run(300);
        ComeBackAfter(seconds);
        Run(300);
        Assert.DoesNotContain(transitions, transition => transition.Alarm.Kind is AlarmKind.MeterSilent or AlarmKind.SupplyLost);
    }

    [Fact]
    public void Who_is_silent_after_the_return_is_told_after_the_usual_patience_from_then()
    {
        Run(300);
        speaking.Remove("B2");
        var back = ComeBackAfter(3600);
        Run(300);
        var silent = Assert.Single(transitions, transition => transition.Alarm.Kind == AlarmKind.MeterSilent);
        Assert.InRange((silent.At - back).TotalSeconds, 90, 92);
        Assert.Contains("B2 has sent nothing for 9", silent.Alarm.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_sent_before_every_pedestal_has_been_heard_again()
    {
        Run(300);
        speaking.Remove("B3");
        var back = ComeBackAfter(3600);
        sent.Clear();
        Run(40);
        Assert.Empty(sent);
        speaking.Add("B3");
        Run(30);
        Assert.InRange((sent.Min() - back).TotalSeconds, 40, 51);
    }

    [Fact]
    public void After_a_short_restart_it_goes_on_at_once()
    {
        Run(300);
        var back = ComeBackAfter(20);
        sent.Clear();
        Run(2);
        Assert.Equal(back, sent.Min());
    }

    /// <summary>Sixty seconds past the limit raise it: thirty were seen before and thirty must be seen after.</summary>
    [Fact]
    public void What_must_last_before_it_is_an_alarm_must_be_seen_to_last()
    {
        Run(300);
        amps["B1"] = 29;
        Run(35);
        var back = ComeBackAfter(3600);
        Run(120);
        var raised = transitions.First(transition => transition.Alarm.Id == "B.B1.A.overload");
        Assert.InRange((raised.At - back).TotalSeconds, 20, 50);
    }

    [Fact]
    public void Clear_delays_and_shelves_end_by_real_time()
    {
        amps["B1"] = amps["B2"] = 29;
        Run(300);
        Tell("alarm/B.B2.A.overload/shelve", now.AddMinutes(30));
        amps["B1"] = 5;
        Run(25);
        Assert.Equal(AlarmState.Shelved, last!.Standing.Single(alarm => alarm.Id == "B.B2.A.overload").State);
        var back = ComeBackAfter(3600);
        Run(30);
        Assert.InRange((At("B.B1.A.overload", AlarmState.ReturnedUnacknowledged) - back).TotalSeconds, 0, 11);
        Assert.Equal(back, At("B.B2.A.overload", AlarmState.Normal));
    }

    [Fact]
    public void What_was_lost_before_is_still_lost_until_it_speaks()
    {
        Run(300);
        speaking.Clear();
        Run(300);
        var before = last!.Standing.Select(alarm => (alarm.Id, alarm.State)).ToList();
        Assert.Contains(before, alarm => alarm.Id == "B.B1.supply-lost");
        ComeBackAfter(3600);
        transitions.Clear();
        Run(60 * 30);
        Assert.Empty(transitions);
        Assert.Equal(before, last.Standing.Select(alarm => (alarm.Id, alarm.State)));
    }

    [Theory]
    [InlineData(3600)]
    [InlineData(-3600)]
    [InlineData(-40 * 24 * 3600)]
    public void A_clock_that_jumps_floods_nobody_and_forgets_nothing(int seconds)
    {
        amps["B1"] = 29;
        Run(600);
        var before = last!.Standing.Select(alarm => (alarm.Id, alarm.State)).ToList();
        Assert.Contains(before, alarm => alarm.Id == "B.B1.A.overload");
        transitions.Clear();
        now = now.AddSeconds(seconds);
        Run(300);
        Assert.Empty(transitions);
        Assert.Equal(before, last.Standing.Select(alarm => (alarm.Id, alarm.State)));
        amps["B1"] = 5;
        var calm = now;
        Run(900);
        Assert.InRange((transitions.Single().At - calm).TotalSeconds, 0, 300);
    }

    DateTimeOffset At(string id, AlarmState state) =>
        transitions.Last(transition => transition.Alarm.Id == id && transition.Alarm.State == state).At;

    /// <summary>Another process goes on from the memory's bytes.</summary>
    /// <returns>When.</returns>
    DateTimeOffset ComeBackAfter(int seconds)
    {
        monitor = AnyMessages.Restored(monitor);
        now = now.AddSeconds(seconds);
        monitor.Resumed(now);
        return now;
    }

    void Run(int seconds)
    {
        for (var until = now.AddSeconds(seconds); now < until; now = now.AddSeconds(1))
        {
            foreach (var step in monitor.Advance(now))
            {
                last = step;
                transitions.AddRange(step.Transitions);
                if (Outgoing.Of("marshpoint", step).Any())
                    sent.Add(step.Now);
            }
            if (now.ToUnixTimeSeconds() % 10 == 5)
                foreach (var pedestal in speaking)
                    Say(pedestal);
        }
    }

    void Say(string pedestal) => Take($"pedestal/{pedestal}/reading", new JsonObject
    {
        ["volts"] = new JsonObject { ["L1"] = 119, ["L2"] = 119 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps[pedestal] } } },
    });

    void Tell(string topic, DateTimeOffset until) =>
        Take(topic, new JsonObject { ["by"] = "Bo", ["reason"] = "known", ["until"] = until.ToString("O") });

    void Take(string topic, JsonObject payload)
    {
        payload["time"] = now.ToString("O");
        var decoded = monitor.Take(new(now, new($"farberth/v1/marshpoint/{topic}", Encoding.UTF8.GetBytes(payload.ToJsonString()))));
        Assert.Empty(decoded.Refusals);
    }
}
