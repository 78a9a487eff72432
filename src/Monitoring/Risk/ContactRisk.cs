using Farberth.Grid.Protection;

namespace Farberth.Monitoring.Risk;

/// <summary>How warm the contacts of one outlet and its plug are, and where that goes.</summary>
/// <param name="Celsius">Measured where fresh, else modelled.</param>
/// <param name="Sd">One standard deviation of it.</param>
/// <param name="JacketCelsius">Of the cord in the sun, far from the plug, modelled.</param>
/// <param name="RiskCelsius">What is passed within <see cref="HorizonMinutes"/> with a chance of one in three.</param>
/// <param name="SpareOutlet">Another outlet of the same slip from which nothing is drawn, as "B"; null: none.</param>
public sealed record ContactRisk(
    double Celsius, double Sd, bool IsMeasured, double LimitCelsius, ContactOutlook Outlook, double JacketCelsius,
    double RiskCelsius, string? SpareOutlet)
{
    /// <summary>Time for somebody to be found and to switch off (assumed).</summary>
    public const int HorizonMinutes = 60;

    /// <summary>Of a normal distribution, what one third of it passes.</summary>
    public const double OneInThree = 0.4307;

    /// <summary>Until the contacts most likely reach the limit; 0 where they are past it, null where they do not within hours.</summary>
    public int? MinutesToLimit => Celsius >= LimitCelsius ? 0 : Outlook.MinutesUntil(LimitCelsius);

    /// <summary>The steady amps that would heat as those of the last minutes have.</summary>
    public double RecentAmps => Outlook.Model.Amps(Outlook.Heat.Recent);

    /// <summary>Steady amps that leave the contacts below a temperature, with the same chance.</summary>
    public double AmpsFor(double celsius) => Cautious(Outlook).AmpsFor(celsius);

    static ContactOutlook Cautious(ContactOutlook outlook) => outlook with
    {
        Wear = outlook.Wear with { Factor = outlook.Wear.Factor + OneInThree * outlook.Wear.FactorSd },
    };
}
