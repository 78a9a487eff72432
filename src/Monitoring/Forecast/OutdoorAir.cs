using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Forecast;

/// <summary>The heat of the past by the quarter-hour, and what the latest weather message says of the next hours.</summary>
sealed class OutdoorAir
{
    /// <summary>Older weather says nothing of now (assumed).</summary>
    static readonly TimeSpan FreshFor = TimeSpan.FromHours(3);

    /// <summary>A longer hole in a forecast is not bridged.</summary>
    static readonly TimeSpan LongestStep = TimeSpan.FromHours(6);

    /// <summary>Cooling degrees, K above <see cref="Profile.CoolingFromCelsius"/>; NaN where no weather was known.</summary>
    public QuarterRing Cooling { get; } = new();

    public void Close(long quarter, Weather? weather) =>
        Cooling.Add(quarter, IsFresh(weather, Quarters.Start(quarter + 1)) ? Degrees(weather!.Celsius) : double.NaN);

    /// <summary>
    /// Degrees in the middle of a quarter to come: between the hours of the forecast, the present reading being the first. Beyond
    /// its end as they were a day before. NaN where neither is known.
    /// </summary>
    public double Ahead(long quarter, Weather? weather, DateTimeOffset now)
    {
        var at = Quarters.Start(quarter) + Quarters.Length / 2;
        if (IsFresh(weather, now) && Between(weather!, at) is { } celsius)
            return Degrees(celsius);
        return Cooling[quarter - Quarters.PerDay];
    }

    static double? Between(Weather weather, DateTimeOffset at)
    {
        var (time, celsius) = (weather.Time, weather.Celsius);
        foreach (var hour in weather.Forecast.Where(hour => hour.Time > weather.Time).OrderBy(hour => hour.Time))
        {
            if (at <= hour.Time)
                return hour.Time - time > LongestStep ? null : celsius + (hour.Celsius - celsius) * Math.Max(0, (at - time) / (hour.Time - time));
            (time, celsius) = (hour.Time, hour.Celsius);
        }
        return at - time <= Quarters.Length ? celsius : null;
    }

    static double Degrees(double celsius) => Math.Max(0, celsius - Profile.CoolingFromCelsius);

    static bool IsFresh(Weather? weather, DateTimeOffset now) => weather != null && now - weather.Time <= FreshFor;
}
