namespace Farberth.HotAfternoon;

/// <summary>How one day's weather differs from the scenario's.</summary>
/// <param name="Kelvin">Added to the temperature, in full at the hottest hour.</param>
/// <param name="Clouds">Share of the sun they take, 0 to 1.</param>
/// <param name="ForecastError">Standard normal: which way, and how far, this day's forecast is off.</param>
public readonly record struct DayWeather(double Kelvin, double Clouds, double ForecastError);

/// <summary>Weather from day to day.</summary>
/// <remarks>
/// x_d = ρ·x_(d−1) + √(1 − ρ²)·n, n normal: an autoregression of first order, as is customary for daily temperatures (common
/// practice). Kelvin = spread·x_d; clouds = 0.3 − 0.2·x_d within 0 and 0.8: warm days are clear (assumed). The forecast's errors
/// are independent from day to day.
/// </remarks>
static class SeasonWeather
{
    public static IReadOnlyList<DayWeather> Draw(SeasonPlan plan, long seed)
    {
        var random = new NamedRandom(seed, "season's weather");
        var days = new DayWeather[plan.Days + 2]; // the forecast of the last evening looks beyond
        var x = random.Normal();
        for (var day = 0; day < days.Length; day++)
        {
            days[day] = new(plan.SpreadKelvin * x, Math.Clamp(0.3 - 0.2 * x, 0, 0.8), random.Normal());
            x = plan.Persistence * x + Math.Sqrt(1 - plan.Persistence * plan.Persistence) * random.Normal();
        }
        return days;
    }
}
