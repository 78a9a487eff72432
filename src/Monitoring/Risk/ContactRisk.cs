using Farberth.Grid.Protection;

namespace Farberth.Monitoring.Risk;

/// <summary>How warm the contacts of one outlet and its plug are, and where that goes.</summary>
/// <param name="Celsius">Measured where fresh, else modelled.</param>
/// <param name="Sd">One standard deviation of it.</param>
/// <param name="JacketCelsius">Of the cord in the sun, far from the plug, modelled.</param>
/// <param name="RiskCelsius">
/// What may come within <see cref="HorizonMinutes"/>: passed with a chance of one in three, and no less than what a kettle brings.
/// </param>
public sealed record ContactRisk(
    double Celsius, double Sd, bool IsMeasured, double LimitCelsius, ContactOutlook Outlook, double JacketCelsius,
    double RiskCelsius)
{
    /// <summary>Time for somebody to be found and to switch off (assumed).</summary>
    public const int HorizonMinutes = 60;

    /// <summary>
    /// An appliance of a quarter of the rating that runs for ten minutes, on contacts already near their limit (assumed): u rises by
    /// about 0.45, of which the fast share and a third of the slow one arrive: 0.45·(0.4·0.92 + 0.6·0.33)·30 K·0.7.
    /// </summary>
    public const double KettleKelvin = 5;

    /// <summary>Of a normal distribution, what one third of it passes.</summary>
    public const double OneInThree = 0.4307;

    /// <summary>Until the contacts most likely reach the limit; 0 where they are past it, null where they do not within hours.</summary>
    public int? MinutesToLimit => Celsius >= LimitCelsius ? 0 : Outlook.MinutesUntil(LimitCelsius);

    /// <summary>The steady amps that would heat as those of the last minutes have.</summary>
    public double RecentAmps => Outlook.Model.Amps(Outlook.Heat.Recent);

    /// <summary>
    /// Steady amps with which <see cref="RiskCelsius"/> would be so much: the rise over the air goes with I^n, so
    /// I' = I·((T' − T_air)/(T − T_air))^(1/n).
    /// </summary>
    public double AmpsFor(double celsius) => RecentAmps * Math.Pow(
        Math.Max(0, celsius - Outlook.AirCelsius) / Math.Max(1, RiskCelsius - Outlook.AirCelsius), 1 / ConnectorModel.Exponent);
}
