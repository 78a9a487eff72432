using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Risk;

/// <summary>What the readings of one outlet tell of its breaker: 30 A, UL 489, in 40 °C, for which it is calibrated.</summary>
public class BreakerWatchTests
{
    static readonly OutletKey Key = new("B3", "A");
    static readonly DockDefinition Dock = TestDock.Site.Docks["B"];

    readonly BreakerWatch watch = new(TestDock.Site, Dock);
    DateTimeOffset now = TestDock.Start;
    TripOutlook outlook = TripOutlook.Cold(0);
    Weather? weather;

    [Fact]
    public void Below_the_continuous_limit_nothing_is_at_stake()
    {
        Draw(23, minutes: 60);
        Assert.Equal(TripOutlook.Cold(23), outlook);
    }

    // UL 489 holds 100 % in 40 °C (confirmed, manualsdump.com 280480 p. 67).
    [Fact]
    public void At_the_rating_in_its_reference_air_a_sound_breaker_holds()
    {
        Draw(29.5, minutes: 120);
        Assert.InRange(outlook.Present.Within60Minutes, 0, 0.05);
    }

    // UL 489: 135 % opens within the hour, 30 A (confirmed, optifuse.com), at 25 °C; warmer it opens sooner.
    [Fact]
    public void At_135_percent_it_is_as_good_as_certain_to_open_within_the_hour()
    {
        Draw(20, minutes: 30);
        Draw(40.5, minutes: 1);
        Assert.True(outlook.Present.Within60Minutes > 0.99);
        Assert.InRange(outlook.Present.Opens!.Value.LatestMinutes, 1, 60);
    }

    [Fact]
    public void A_start_seen_in_a_single_reading_is_left_out()
    {
        Draw(20, minutes: 10);
        Read(95, true);
        Assert.Equal(TripOutlook.Cold(20), outlook);
        Read(20, true);
        Assert.Equal(TripOutlook.Cold(20), outlook);
    }

    [Fact]
    public void A_locked_rotor_is_seen_with_its_second_reading()
    {
        Draw(20, minutes: 10);
        Read(95, true);
        Read(95, true);
        Assert.True(outlook.Present is { Within15Minutes: > 0.99, Opens.LatestMinutes: < 1 });
    }

    [Fact]
    public void An_overload_that_has_been_survived_for_long_is_no_threat_any_more()
    {
        Draw(32, minutes: 3);
        var early = outlook.Present.Within60Minutes;
        Draw(32, minutes: 90);
        Assert.True(early > 0.2 && outlook.Present.Within60Minutes < 0.02);
        Draw(34, minutes: 2);
        Assert.InRange(outlook.Present.Within60Minutes, 0.1, 0.6);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(null)]
    public void A_trip_teaches_where_in_its_band_the_breaker_lies_also_where_nobody_says_that_it_is_open(bool? closedAfter)
    {
        Draw(33, minutes: 10);
        Draw(0, minutes: 30, closedAfter);
        Draw(30.5, minutes: 2);
        Assert.True(outlook.Present.Within60Minutes < 0.2);
        Draw(35, minutes: 1);
        Assert.True(outlook.Present.Within60Minutes > 0.9);
    }

    [Theory]
    [InlineData(20, false)]
    [InlineData(33, true)]
    public void Switched_off_while_cold_or_aboard_it_teaches_nothing(double ampsBefore, bool closedAfter)
    {
        Draw(ampsBefore, minutes: 1);
        Draw(0, minutes: 30, closedAfter);
        Draw(33, minutes: 2);
        Assert.InRange(outlook.Present.Within60Minutes, 0.2, 0.8);
    }

    [Fact]
    public void Ticks_of_a_second_and_of_ten_say_the_same()
    {
        Draw(31.5, minutes: 12);
        var slow = outlook;
        var other = new BreakerWatchTests();
        for (var second = 0; second < 12 * 60; second++)
            other.Tick(31.5, true, TimeSpan.FromSeconds(1), isNew: second % 10 == 9);
        Assert.Equal(slow.Present.Within60Minutes, other.outlook.Present.Within60Minutes, 0.03);
    }

    [Fact]
    public void Another_forecast_may_take_the_place_of_the_trend()
    {
        Tick(25, true, TimeSpan.FromSeconds(10), isNew: true, (key, minutes) => key == Key ? 22 + minutes / 5 : 0);
        Assert.Equal(34, outlook.ForecastAmps, 1e-9);
        Assert.True(outlook.Forecast.Within60Minutes > 0.5);
        Assert.Equal(0, outlook.Present.Within60Minutes);
    }

    [Fact]
    public void What_was_survived_is_no_threat_but_one_more_appliance_is()
    {
        Draw(29.5, minutes: 120);
        Assert.True(outlook.OnlyIfBusier && outlook.MayOpen);
        Assert.InRange(outlook.Busier.Within60Minutes, 0.7, 1);
        Assert.InRange(outlook.Opens!.Value.LatestMinutes, 1, 10);
    }

    [Theory]
    [InlineData(37, true)]
    [InlineData(-2, true)]
    [InlineData(22, false)]
    public void In_the_heat_and_in_the_cold_loads_last_and_sooner_somebody_is_told(double outdoorCelsius, bool isTold)
    {
        weather = new(now, outdoorCelsius, null, []);
        Draw(30.5, minutes: 2);
        Assert.InRange(outlook.Present.Within60Minutes, 0.05, 0.4);
        Assert.Equal(isTold, outlook.MayOpen);
    }

    [Fact]
    public void In_mild_weather_what_is_sure_to_open_it_is_told_all_the_same()
    {
        weather = new(now, 20, null, []);
        Draw(20, minutes: 30);
        Draw(40.5, minutes: 1);
        Assert.True(outlook.MayOpen);
    }

    [Theory]
    [InlineData(20, 0, 0.4)]
    [InlineData(28, 0, 0.5)]
    [InlineData(12, 0, 0.5)]
    [InlineData(36, 0, 1)]
    [InlineData(20, 4, 1)]
    public void Loads_last_by_the_kelvin_from_20_degrees_and_with_old_weather_always(double celsius, double hoursOld, double expected) =>
        Assert.Equal(expected, LoadsThatLast.Share(new(now.AddHours(-hoursOld), celsius, null, []), now), 1e-12);

    void Draw(double amps, int minutes, bool? closed = true)
    {
        for (var reading = 0; reading < 6 * minutes; reading++)
            Read(amps, closed);
    }

    void Read(double amps, bool? closed) => Tick(amps, closed, TimeSpan.FromSeconds(10), isNew: true);

    void Tick(double amps, bool? closed, TimeSpan time, bool isNew, Func<OutletKey, double, double>? forecast = null)
    {
        now += time;
        var said = new OutletReading(PerLeg.None.With(Leg.L1, amps), PerLeg.None, null, null, closed);
        var moment = new OutletMoment(isNew ? now : now - time, new(118, 120, double.NaN), said);
        var pedestals = Dock.Pedestals.Values.ToDictionary(pedestal => pedestal.Name, pedestal => Image(pedestal, moment));
        var place = pedestals.SelectMany(pedestal => pedestal.Value.Outlets.Keys.Select(outlet => new OutletKey(pedestal.Key, outlet))).ToList().IndexOf(Key);
        outlook = watch.Tick(new(now, new(pedestals), weather), 40, forecast)[place];
    }

    static PedestalImage Image(PedestalDefinition pedestal, OutletMoment moment) => new(
        pedestal,
        new(moment.Time, pedestal.Name, null, moment.Volts, new Dictionary<string, OutletReading>()),
        null,
        TimeSpan.Zero,
        true,
        new(pedestal.Outlets.Values.ToDictionary(outlet => outlet.Name, outlet => new OutletImage(
            outlet, null, new OutletKey(pedestal.Name, outlet.Name) == Key ? [moment] : [], null, null))));
}
