using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>Air that the sun warms beyond the outdoor air: in raceways, in pedestals.</summary>
static class AirInTheSun
{
    /// <summary>
    /// The rise goes with the sun's height, taken as a sine from 06:00 local time until sunset; in winter that is too much, and harmless.
    /// While no weather is known: the site's stated raceway temperature.
    /// </summary>
    /// <param name="riseKelvin">At the sun's highest.</param>
    public static double Celsius(DockImage image, SiteLimits limits, TimeZoneInfo zone, double riseKelvin, double sunsetHour)
    {
        if (image.Weather == null)
            return limits.RacewayCelsius;
        var hour = TimeZoneInfo.ConvertTime(image.Now, zone).TimeOfDay.TotalHours;
        return image.Weather.Celsius + riseKelvin * Math.Max(0, Math.Sin(Math.PI * (hour - 6) / (sunsetHour - 6)));
    }
}
