using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Risk;

/// <summary>How likely it is that what an outlet draws goes on, by the heat or the cold outdoors.</summary>
/// <remarks>
/// What overloads an outlet for long cools or heats. It is chosen for the hottest or coldest day and then runs without a pause; on
/// others it pauses in proportion of what the building gains or loses, the balance that degree days rest on (common practice):
///   λ = |T − 20 °C| / 16 K, at most 1, at least <see cref="Least"/>.
/// 36 °C for the hottest day is assumed, and the same distance below; all else that is switched on makes the least, assumed.
/// With no weather, or weather older than three hours, λ is 1.
/// </remarks>
static class LoadsThatLast
{
    const double NeitherCelsius = 20;
    const double DesignKelvin = 16;
    const double Least = 0.4;

    static readonly TimeSpan FreshFor = TimeSpan.FromHours(3);

    public static double Share(Weather? weather, DateTimeOffset now) =>
        weather == null || now - weather.Time > FreshFor ? 1
        : Math.Clamp(Math.Abs(weather.Celsius - NeitherCelsius) / DesignKelvin, Least, 1);
}
