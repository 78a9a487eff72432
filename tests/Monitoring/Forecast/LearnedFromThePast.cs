using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Forecast;

/// <summary>The parts of the forecast against series whose law is known.</summary>
public class LearnedFromThePast
{
    /// <summary>A Monday, midnight.</summary>
    static readonly long Monday = Quarters.Of(new(2027, 6, 28, 0, 0, 0, TimeSpan.Zero));

    /// <summary>v = 30 + hour + 2·D: a straight line is found again, and carried beyond the heat that was seen.</summary>
    [Fact]
    public void The_hour_and_the_heat_are_found_again()
    {
        var (values, cooling, random) = (new QuarterRing(), new QuarterRing(), new Random(1));
        for (var quarter = Monday; quarter < Monday + 21 * 96; quarter++)
        {
            var heat = 5 + 10 * random.NextDouble();
            cooling.Add(quarter, heat);
            values.Add(quarter, 30 + quarter % 96 / 4.0 + 2 * heat);
        }
        var target = Monday + 21 * 96 + 60;
        var profile = Profile.At(values, cooling, target, DayOfWeek.Monday, 18, Profile.AssumedSlopeShare);
        Assert.Equal(30 + 15 + 2 * 18, profile.Mean, 0.5);
        Assert.Equal(2, profile.Slope, 0.1);
    }

    [Fact]
    public void A_weekend_is_foretold_from_weekends()
    {
        var (values, cooling) = (new QuarterRing(), new QuarterRing());
        for (var quarter = Monday; quarter < Monday + 14 * 96; quarter++)
            values.Add(quarter, (quarter - Monday) / 96 % 7 >= 5 ? 80 : 20);
        double On(DayOfWeek day, int at) => Profile.At(values, cooling, Monday + (14 + at) * 96 + 50, day, double.NaN, 0).Mean;
        Assert.InRange(On(DayOfWeek.Saturday, 5), 70, 80);
        Assert.InRange(On(DayOfWeek.Tuesday, 1), 20, 25);
    }

    [Fact]
    public void Of_an_hour_that_was_never_seen_nothing_is_said() => Assert.True(double.IsNaN(
        Profile.At(new(), new(), Monday, DayOfWeek.Monday, 5, 0).Mean));

    /// <summary>An autoregression of first order: after h steps φ^h of a deviation is left (any textbook on time series).</summary>
    [Fact]
    public void A_deviation_dies_away_as_its_own_past_did()
    {
        const double φ = 0.97;
        var (nowcast, residuals, random) = (new Nowcast(), new Residuals(), new Random(2));
        var r = 0.0;
        for (var quarter = Monday; quarter < Monday + 27 * 96; quarter++)
        {
            r = φ * r + Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            residuals.Add(quarter, r);
            nowcast.Learn(residuals, quarter);
            nowcast.Close();
        }
        var now = Monday + 27 * 96;
        for (var quarter = now; quarter < now + 8; quarter++)
            residuals.Add(quarter, 10);
        foreach (var hours in new[] { 1, 3, 6, 12 })
            Assert.Equal(10 * Math.Pow(φ, 4 * hours), nowcast.Residual(residuals, now + 7, 2 + hours), 1.5);
    }

    [Fact]
    public void Weather_lies_between_the_hours_of_its_forecast_and_old_weather_says_nothing()
    {
        var now = new DateTimeOffset(2027, 7, 17, 12, 0, 0, TimeSpan.Zero);
        var weather = new Weather(now, 30, null, [new(now.AddHours(1), 32), new(now.AddHours(3), 36)]);
        var (air, quarter) = (new OutdoorAir(), Quarters.Of(now));
        double Ahead(int quarters, DateTimeOffset at) => air.Ahead(quarter + quarters, weather, at);
        Assert.Equal(10.25, Ahead(0, now), 1e-9); // 12:07:30 lies an eighth of the way from 30 to 32 °C; 20 °C is the base
        Assert.Equal(14.25, Ahead(8, now), 1e-9);
        Assert.True(double.IsNaN(Ahead(16, now)));
        Assert.True(double.IsNaN(Ahead(8, now.AddHours(4))));
        for (var past = quarter - 96; past < quarter; past++)
            air.Close(past, weather with { Time = Quarters.Start(past), Celsius = 27 });
        Assert.Equal(7, Ahead(16, now)); // as a day before
    }

    [Fact]
    public void Four_weeks_are_kept_and_no_more()
    {
        var ring = new QuarterRing();
        for (var quarter = Monday; quarter < Monday + 40 * 96; quarter++)
            ring.Add(quarter, quarter - Monday);
        Assert.True(double.IsNaN(ring[Monday + 12 * 96 - 1]));
        Assert.Equal(12 * 96, ring[Monday + 12 * 96]);
        ring.Add(Monday + 40 * 96 + 10, 1);
        Assert.True(double.IsNaN(ring[Monday + 40 * 96 + 5]));
        ring.Add(Monday, 7);
        Assert.True(double.IsNaN(ring[Monday]));
    }

    [Fact]
    public void A_quarter_of_which_little_was_heard_is_unknown()
    {
        var mean = new QuarterMean();
        foreach (var value in new[] { 4, 6, double.NaN, double.NaN })
            mean.Add(value);
        Assert.Equal(5, mean.Close());
        foreach (var value in new[] { 4, double.NaN, double.NaN })
            mean.Add(value);
        Assert.True(double.IsNaN(mean.Close()));
    }
}
