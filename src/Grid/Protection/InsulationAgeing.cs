namespace Farberth.Grid.Protection;

/// <summary>How fast a winding's insulation ages: 1 is the rate at which it lasts its normal life.</summary>
public static class InsulationAgeing
{
    /// <summary>
    /// Thermally upgraded paper in liquid, IEEE C57.91: F_AA = e^(15000/383 − 15000/(Θ_H + 273)), 1 at 110 °C, where it lasts
    /// 180,000 h (confirmed).
    /// </summary>
    public static double OfLiquid(double hotSpotCelsius) => Math.Exp(15000 / 383.0 - 15000 / (hotSpotCelsius + 273));

    /// <summary>
    /// Dry, class 220 °C: twice as fast for each 10 K more, 1 at the class temperature (the rule of IEC 60076-12, from memory).
    /// </summary>
    public static double OfDry(double hotSpotCelsius) => Math.Pow(2, (hotSpotCelsius - 220) / 10);
}
