using System.Text;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Tests.Site;

/// <summary>Ticks stand on whole seconds; what cannot wait is looked at when it arrives. On a dock whose overload has a raise delay of 60 s.</summary>
public class EarlyLooks
{
    readonly SiteMonitor monitor = new(TestDock.Site);
    readonly List<DockStep> steps = [];

    public EarlyLooks()
    {
        Advance(0);
        foreach (var pedestal in new[] { "B1", "B2", "B3" })
            Say(0, pedestal, 120, 120);
        Advance(9.5);
        steps.Clear();
    }

    [Fact]
    public void Volts_that_jump_are_judged_when_they_arrive()
    {
        Say(10.25, "B3", 90, 150, amps: 20);
        Advance(11);
        Assert.Equal([10, 10.25, 11], Looks);
        Assert.Equal(10.25, RaisedAt(AlarmKind.OpenNeutral));
    }

    /// <summary>25 A on an outlet of 30 A, which may carry 24 A for hours (80 %: common practice). The first such reading may be a motor's start.</summary>
    [Fact]
    public void The_second_reading_over_the_limit_is_judged_when_it_arrives_and_its_delay_ends_to_the_moment()
    {
        foreach (var second in new[] { 12.25, 17.5, 22.75, 45, 70 })
            Say(second, "B3", 118, 120, amps: 25);
        Advance(78);
        Assert.Equal([17.5, 77.5], Looks.Where(second => second != Math.Round(second)));
        Assert.Equal(77.5, RaisedAt(AlarmKind.Overload));
    }

    [Fact]
    public void However_many_readings_ask_for_it_looks_are_a_tenth_of_a_second_apart()
    {
        for (var reading = 0; reading < 20; reading++)
            Say(10.3 + 0.01 * reading, "B3", reading % 2 == 0 ? 100 : 120, 120);
        Advance(10.9);
        Assert.Equal([10, 10.3, 10.4, 10.5], Looks.Select(second => Math.Round(second, 3)));
    }

    /// <summary>What was asked for before a gap in which nobody listened is not made up for.</summary>
    [Fact]
    public void A_gap_lets_go_what_has_not_been_looked_at()
    {
        Say(10.25, "B3", 90, 150, amps: 20);
        monitor.Resumed(TestDock.Start.AddSeconds(100.5));
        Advance(101);
        Assert.Equal([10, 100, 101], Looks);
    }

    IEnumerable<double> Looks => steps.Select(Second);

    static double Second(DockStep step) => (step.Now - TestDock.Start).TotalSeconds;

    double RaisedAt(AlarmKind kind) =>
        Second(steps.First(step => step.Transitions.Any(transition => transition.Alarm.Kind == kind && transition.IsRaise)));

    void Advance(double second) => steps.AddRange(monitor.Advance(TestDock.Start.AddSeconds(second)));

    void Say(double second, string pedestal, double volts1, double volts2, double amps = 1)
    {
        var at = TestDock.Start.AddSeconds(second);
        Advance(second);
        monitor.Take(new(at, new($"farberth/v1/marshpoint/pedestal/{pedestal}/reading", Encoding.UTF8.GetBytes(new JsonObject
        {
            ["time"] = at.ToString("O"),
            ["volts"] = new JsonObject { ["L1"] = volts1, ["L2"] = volts2 },
            ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
        }.ToJsonString()))));
    }
}
