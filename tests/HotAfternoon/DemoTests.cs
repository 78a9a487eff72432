namespace Farberth.HotAfternoon.Tests;

/// <summary>The demo afternoon has the shape that people on a hot dock know (common practice).</summary>
public class DemoTests(DemoRun run) : IClassFixture<DemoRun>
{
    // Common practice: a dock at 120 V in the morning ...
    [Fact]
    public void In_the_morning_every_pedestal_has_about_its_nominal_volts()
    {
        var means = Means("11:00", "12:00");
        Assert.All(means, leg => Assert.InRange(leg.Volts, 118, 122));
    }

    // ... can be at about 106 V at its far end on a hot afternoon.
    [Fact]
    public void In_the_late_afternoon_the_far_end_falls_to_about_106_volts()
    {
        var lowest = Means("16:55", "17:05").MinBy(leg => leg.Volts);
        Assert.Equal("H18", lowest.Pedestal);
        Assert.InRange(lowest.Volts, 104.5, 107.5);
        Assert.InRange(Means("16:00", "18:00").Min(leg => leg.Volts), 104.5, 108.5);
        Assert.True(Means("16:00", "18:00").Where(leg => leg.Pedestal == "H1").All(leg => leg.Volts > 117));
    }

    [Fact]
    public void The_far_end_is_below_108_volts_for_a_while_but_not_for_ever() =>
        Assert.InRange(run.SecondsBelow108.Max(), 30 * 60, 150 * 60);

    [Fact]
    public void After_sunset_the_dock_recovers() => Assert.All(
        run.Between("20:15", "21:30"),
        minute => Assert.True(minute.Volts.Values.Min(legs => legs.Min()) > 109));

    // Common practice: a 30 A supply is good for about 24 to 26 A continuously.
    [Fact]
    public void Several_thirty_amp_outlets_carry_more_than_24_amps_for_half_an_hour()
    {
        var minutesAbove24 = run.Minutes
            .SelectMany(minute => minute.OutletAmps.Where(outlet => outlet.Value > 24 && !Is50Amp(outlet.Key)))
            .CountBy(outlet => outlet.Key);
        Assert.True(minutesAbove24.Count(outlet => outlet.Value >= 28) >= 4);
    }

    [Fact]
    public void One_breaker_trips_about_five_o_clock()
    {
        var (outlet, at) = Assert.Single(run.FirstOpen);
        Assert.Equal("H13.A", outlet);
        Assert.InRange(at, new TimeSpan(16, 51, 0), new TimeSpan(17, 10, 0));
        Assert.Contains(run.Between("16:50", "17:10"), minute => minute.OutletAmps[outlet] > 30);
    }

    [Fact]
    public void The_finger_pier_loads_one_leg_much_more_than_the_other()
    {
        var minutes = run.Between("16:00", "18:00").ToList();
        Assert.True(minutes.Average(m => m.FingerAmps[1]) > 1.5 * minutes.Average(m => m.FingerAmps[0]));
    }

    [Fact]
    public void A_boat_that_is_plugged_in_stops_drawing()
    {
        Assert.True(run.Between("14:00", "14:50").Average(minute => minute.OutletAmps["H11.A"]) > 2);
        Assert.All(run.Between("14:50", "21:30"), minute => Assert.Equal(0, minute.OutletAmps["H11.A"]));
        Assert.DoesNotContain("H11.A", run.FirstOpen.Keys);
    }

    // 23 pedestals, 10.5 hours, one reading each 10 s: 86,940, less one silence of 60 and 0.3 % lost, plus 0.3 % twice.
    [Fact]
    public void Every_pedestal_sends_a_reading_each_ten_seconds() => Assert.InRange(run.Readings, 86_600, 87_200);

    [Fact]
    public void Every_message_keeps_to_the_topics_of_the_contract() => Assert.All(run.Topics, topic => Assert.Matches(
        "^farberth/v1/kestrelcove/(pedestal/[HF][0-9]{1,2}/(reading|link)|weather|slip/[HF]-[0-9]{1,2}/boat)$", topic));

    [Fact]
    public void The_service_takes_every_message() => Assert.Empty(run.NotTaken);

    [Fact]
    public void Every_member_is_one_of_the_contract() => Assert.Equal(
        [
            "boat/present", "boat/time", "link/online", "link/time", "reading/outlets", "reading/outlets/*",
            "reading/outlets/*/amps", "reading/outlets/*/amps/L1", "reading/outlets/*/amps/L2",
            "reading/outlets/*/celsius", "reading/outlets/*/closed",
            "reading/outlets/*/watts", "reading/outlets/*/watts/L1", "reading/outlets/*/watts/L2",
            "reading/seq", "reading/time", "reading/volts", "reading/volts/L1", "reading/volts/L2",
            "weather/celsius", "weather/forecast", "weather/humidity", "weather/time",
        ],
        run.Members.Order(StringComparer.Ordinal));

    IEnumerable<(string Pedestal, double Volts)> Means(string from, string until)
    {
        var minutes = run.Between(from, until).ToList();
        foreach (var pedestal in minutes[0].Volts.Keys)
            for (var leg = 0; leg < 2; leg++)
                yield return (pedestal, minutes.Average(minute => minute.Volts[pedestal][leg]));
    }

    static bool Is50Amp(string outlet) => outlet is "H2.B" or "H5.B" or "H8.B" or "H12.B" or "H15.B" or "H17.B";
}
