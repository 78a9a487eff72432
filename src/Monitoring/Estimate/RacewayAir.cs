using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>The air that a dock's cables lie in.</summary>
static class RacewayAir
{
    /// <summary>
    /// Outdoor air and a rise in the sun that goes with the sun's height, taken as a sine from 06:00 to 18:00 local time.
    /// While no weather is known: the site's stated raceway temperature.
    /// </summary>
    public static double Celsius(DockImage image, SiteLimits limits, TimeZoneInfo zone)
    {
        if (image.Weather == null)
            return limits.RacewayCelsius;
        var hour = TimeZoneInfo.ConvertTime(image.Now, zone).TimeOfDay.TotalHours;
        return image.Weather.Celsius + limits.SunRiseKelvin * Math.Max(0, Math.Sin(Math.PI * (hour - 6) / 12));
    }
}
