namespace Farberth.HotAfternoon.Tests;

public class HeatWaveTests
{
    static readonly DateTime Day = new(2027, 7, 17);

    static readonly WeatherPlan Plan = new(
        24, 38, new TimeOnly(16, 0), 20, new TimeOnly(6, 0), new TimeOnly(20, 0), 0, TimeSpan.FromMinutes(15), 0);

    [Fact]
    public void The_high_falls_on_its_hour_and_the_low_before_sunrise()
    {
        var sky = new HeatWave(Plan);
        Assert.Equal(38, sky.At(Day.AddHours(16)).Celsius, 9);
        Assert.Equal(24, sky.At(Day.AddHours(5.5)).Celsius, 9);
    }

    [Fact]
    public void The_temperature_goes_round_the_clock_without_a_step()
    {
        var sky = new HeatWave(Plan);
        for (var minute = 0; minute < 48 * 60; minute++)
        {
            var here = sky.At(Day.AddMinutes(minute)).Celsius;
            Assert.InRange(here, 24, 38);
            Assert.Equal(here, sky.At(Day.AddMinutes(minute + 1)).Celsius, 0.06);
        }
    }

    [Fact]
    public void The_sun_is_strongest_half_way_and_gone_at_night()
    {
        var sky = new HeatWave(Plan);
        Assert.Equal(1, sky.At(Day.AddHours(13)).Sun, 9);
        Assert.Equal(0, sky.At(Day.AddHours(20)).Sun);
        Assert.Equal(0, sky.At(Day.AddHours(3)).Sun);
        Assert.Equal(0.75, new HeatWave(Plan with { Clouds = 0.25 }).At(Day.AddHours(13)).Sun, 9);
    }

    // Saturated steam tables: 2.339 kPa at 20 °C, 4.246 kPa at 30 °C (from memory; two digits are enough here).
    [Fact]
    public void Air_of_30_degrees_with_a_dew_point_of_20_is_55_percent_humid()
    {
        var sky = new HeatWave(Plan with { LowCelsius = 30, HighCelsius = 30 });
        Assert.Equal(2.339 / 4.246, sky.At(Day.AddHours(12)).Humidity, 0.003);
    }
}
