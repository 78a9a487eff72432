using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>The air at the pedestals, in the sun, and its drift, K a minute.</summary>
readonly record struct PedestalAir(double Celsius, double DriftPerMinute)
{
    /// <summary>
    /// Outdoor air and a rise in the sun, taken as a sine from 06:00 to 20:00 local time: a summer's day with daylight-saving time.
    /// In winter that is too much, and harmless. While no weather is known: the site's stated raceway temperature.
    /// </summary>
    public static double CelsiusOf(DockImage image, SiteLimits limits, TimeZoneInfo zone)
    {
        if (image.Weather == null)
            return limits.RacewayCelsius;
        var hour = TimeZoneInfo.ConvertTime(image.Now, zone).TimeOfDay.TotalHours;
        return image.Weather.Celsius + limits.Contacts.SunRiseKelvin * Math.Max(0, Math.Sin(Math.PI * (hour - 6) / 14));
    }
}
