using Farberth.Grid.Network;
using Farberth.Grid.Protection;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Risk;

/// <summary>What the dock's monitor knows of a breaker that nobody has opened and looked into. Outlet A of B3: 30 A, UL 489.</summary>
public class BreakerWatchTests
{
    readonly TestDock dock = new();

    TripOutlook Outlook => dock.Last.Picture.Outlets.Single(outlet => outlet is { Pedestal: "B3", Outlet.Name: "A" }).Trip;

    [Fact]
    public void Below_the_continuous_limit_nothing_is_at_stake()
    {
        Draw(23, minutes: 60);
        Assert.Equal(TripOutlook.Cold(23), Outlook);
    }

    // The site states no weather, so the air is its 40 °C: UL 489 holds 100 % there (confirmed, manualsdump.com 280480 p. 67).
    [Fact]
    public void At_the_rating_in_its_reference_air_a_sound_breaker_holds()
    {
        Draw(29.5, minutes: 120);
        Assert.InRange(Outlook.Present.Within60Minutes, 0, 0.05);
    }

    // UL 489: 135 % opens within the hour, 30 A (confirmed, optifuse.com), at 25 °C; warmer it opens sooner.
    [Fact]
    public void At_135_percent_it_is_as_good_as_certain_to_open_within_the_hour()
    {
        Draw(20, minutes: 30);
        Draw(40.5, minutes: 1);
        Assert.True(Outlook.Present.Within60Minutes > 0.99);
        Assert.InRange(Outlook.Present.Opens!.Value.LatestMinutes, 1, 60);
    }

    [Fact]
    public void A_start_seen_in_a_single_reading_is_no_overload()
    {
        Draw(20, minutes: 10);
        dock.Say("B3", 112, 120, ("A", Leg.L1, 95)).Run(TimeSpan.FromSeconds(10));
        Assert.Equal(20, Outlook.Amps);
        Draw(20, minutes: 10);
        Assert.Empty(dock.Of(AlarmKind.Overload));
    }

    [Fact]
    public void A_locked_rotor_is_told_with_its_second_reading()
    {
        Draw(20, minutes: 10);
        dock.Say("B3", 116, 120, ("A", Leg.L1, 95)).Run(TimeSpan.FromSeconds(20));
        var alarm = Assert.Single(dock.Of(AlarmKind.Overload)).Alarm;
        Assert.Equal(Priority.High, alarm.Priority);
        Assert.Contains("may open any moment", alarm.Message);
    }

    [Fact]
    public void An_overload_that_has_been_survived_for_long_is_no_threat_any_more()
    {
        Draw(32, minutes: 3);
        var early = Outlook.Present.Within60Minutes;
        Draw(32, minutes: 90);
        Assert.True(early > 0.2 && Outlook.Present.Within60Minutes < 0.02);
        Draw(34, minutes: 2);
        Assert.InRange(Outlook.Present.Within60Minutes, 0.1, 0.6);
    }

    [Fact]
    public void A_trip_that_the_readings_show_teaches_where_in_its_band_the_breaker_lies()
    {
        Draw(33, minutes: 10);
        Open(minutes: 30);
        Draw(30.5, minutes: 2);
        Assert.True(Outlook.Present.Within60Minutes < 0.2);
        Draw(35, minutes: 1);
        Assert.True(Outlook.Present.Within60Minutes > 0.9);
    }

    [Fact]
    public void Where_nobody_says_that_it_is_open_amps_that_vanish_from_an_overload_are_a_trip()
    {
        Untold(33, minutes: 10);
        Untold(0, minutes: 30);
        Untold(35, minutes: 1);
        Assert.True(Outlook.Present.Within60Minutes > 0.9);
    }

    [Fact]
    public void Switched_off_by_hand_it_teaches_nothing()
    {
        Draw(20, minutes: 10);
        Open(minutes: 30);
        Draw(33, minutes: 2);
        var fresh = new TestDock();
        fresh.Say("B3", 116, 120, ("A", Leg.L1, 33)).Run(TimeSpan.FromMinutes(2));
        Assert.InRange(Outlook.Present.Within60Minutes, 0.2, 0.8);
    }

    [Fact]
    public void Readings_of_each_second_say_the_same_as_of_each_ten()
    {
        Draw(31.5, minutes: 12);
        var slow = Outlook;
        var fast = new TestDock();
        for (var second = 0; second < 12 * 60; second++)
            fast.Say("B3", 116, 120, ("A", Leg.L1, 31.5)).Hear(fast.Says["B3"] with { Time = fast.Now }).Run(TimeSpan.FromSeconds(1));
        var outlook = fast.Last.Picture.Outlets.Single(outlet => outlet is { Pedestal: "B3", Outlet.Name: "A" }).Trip;
        Assert.Equal(slow.Present.Within60Minutes, outlook.Present.Within60Minutes, 0.03);
    }

    [Fact]
    public void Another_forecast_may_take_the_place_of_the_trend()
    {
        var watch = new BreakerWatch(TestDock.Site, dock.Definition);
        Draw(22, minutes: 1);
        var image = dock.Last.Picture.Image;
        var outlooks = watch.Tick(image, 40, (key, minutes) => key is { Pedestal: "B3", Outlet: "A" } ? 22 + minutes / 5 : 0);
        Assert.Equal(34, outlooks[new("B3", "A")].ForecastAmps, 1e-9);
        Assert.True(outlooks[new("B3", "A")].Forecast.Within60Minutes > 0.5);
        Assert.Equal(0, outlooks[new("B3", "A")].Present.Within60Minutes);
    }

    void Draw(double amps, int minutes) => dock.Say("B3", 116, 120, ("A", Leg.L1, amps)).Run(TimeSpan.FromMinutes(minutes));

    void Open(int minutes) => Say(0, false, minutes);

    void Untold(double amps, int minutes) => Say(amps, null, minutes);

    void Say(double amps, bool? closed, int minutes)
    {
        dock.Say("B3", 116, 120, ("A", Leg.L1, amps));
        dock.Says["B3"] = dock.Says["B3"] with
        {
            Outlets = dock.Says["B3"].Outlets.ToDictionary(
                pair => pair.Key, pair => pair.Key == "A" ? pair.Value with { Closed = closed } : pair.Value),
        };
        dock.Run(TimeSpan.FromMinutes(minutes));
    }
}
