using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>NEC 555.35 (2020, 2023): 30 mA at a receptacle, 100 mA at a feeder (from memory).</summary>
public class LeakageTests
{
    readonly TestDock dock = new();

    [Theory]
    [InlineData(29.9, 0)]
    [InlineData(30.1, 1)]
    public void An_outlet_that_leaks_more_than_30_milliamps_is_told(double milliamps, int raised)
    {
        Leak("B3", milliamps);
        dock.Run(TimeSpan.FromSeconds(30));
        Assert.Equal(raised, dock.Of(AlarmKind.Leakage).Count(t => t.Alarm.Id == "B.B3.A.leakage"));
        Assert.All(dock.Of(AlarmKind.Leakage), t => Assert.Contains("out of the water", t.Alarm.Message));
    }

    /// <summary>Two outlets at each of three pedestals: 6 × 17 = 102 mA, 6 × 16 = 96 mA.</summary>
    [Theory]
    [InlineData(16, 0)]
    [InlineData(17, 1)]
    public void A_dock_that_leaks_up_to_more_than_100_milliamps_is_told(double milliamps, int raised)
    {
        foreach (var pedestal in dock.Says.Keys.ToList())
            Leak(pedestal, milliamps, "A", "B");
        dock.Run(TimeSpan.FromSeconds(30));
        Assert.Equal(raised, dock.Of(AlarmKind.Leakage).Count());
        Assert.All(dock.Of(AlarmKind.Leakage), t => Assert.Equal("B.leakage", t.Alarm.Id));
    }

    /// <summary>Nobody knows whether it still leaks: the alarm stays until the pedestal says.</summary>
    [Fact]
    public void A_leak_whose_pedestal_falls_silent_stays_until_it_speaks_again()
    {
        Leak("B3", 40);
        dock.Run(TimeSpan.FromSeconds(30));
        var says = dock.Says["B3"];
        dock.Says.Remove("B3");
        dock.Run(TimeSpan.FromMinutes(30));
        Assert.Equal(AlarmState.Unacknowledged, Assert.Single(dock.Of(AlarmKind.Leakage)).Alarm.State);
        dock.Says["B3"] = says;
        Leak("B3", 0);
        dock.Run(TimeSpan.FromMinutes(12));
        Assert.Equal(AlarmState.ReturnedUnacknowledged, dock.Of(AlarmKind.Leakage).Last().Alarm.State);
    }

    [Fact]
    public void Where_no_pedestal_sends_it_nothing_is_said()
    {
        dock.Run(TimeSpan.FromSeconds(30));
        Assert.Empty(dock.Of(AlarmKind.Leakage));
    }

    [Fact]
    public void The_site_file_can_set_both_limits()
    {
        var yaml = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data", "sites", "good-single-phase-230.yaml"));
        Assert.Equal(new LeakageLimits(30, 100), TestDock.Read(yaml).Limits.Leakage);
        Assert.Equal(new LeakageLimits(10, 300), TestDock.Read(yaml + "limits: { leakage: { outlet: 10 mA, feeder: 300 mA } }\n").Limits.Leakage);
    }

    void Leak(string pedestal, double milliamps, params string[] outlets) => dock.Says[pedestal] = dock.Says[pedestal] with
    {
        Outlets = dock.Says[pedestal].Outlets.ToDictionary(pair => pair.Key, pair =>
            pair.Key == "A" || outlets.Contains(pair.Key) ? pair.Value with { LeakageMilliamps = milliamps } : pair.Value),
    };
}
