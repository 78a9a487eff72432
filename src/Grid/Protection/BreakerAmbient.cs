namespace Farberth.Grid.Protection;

/// <summary>
/// What a thermal breaker carries in other air than it is calibrated for. Its bimetal lets go at one temperature T_t,
/// its rise goes with i², so
///   k(T) = √((T_t − T) / (T_t − T_ref)),   what it holds at T = k·(what it holds at T_ref).
/// T_t − T_ref = 83 K fits the 30 A row of one maker's printed table for a UL frame calibrated at 40 °C: 1.16 at 10 °C,
/// 0.94 at 50 °C, 0.80 at 70 °C (confirmed, productinfo.schneider-electric.com 0611CT1603; k is within 0.02 of all its
/// thirteen figures). A maker's note for switchgear has 65 K (confirmed, siemens-info.com 1059). Taken for every family.
/// </summary>
public static class BreakerAmbient
{
    public const double TripRiseKelvin = 83;

    /// <summary>The air is not taken to be nearer to T_t than this: no figure was found above 70 °C.</summary>
    const double HottestRiseKelvin = 40;

    /// <summary>Multiple k of what it holds in its reference air.</summary>
    public static double Factor(double celsius, double referenceCelsius) =>
        Math.Sqrt((TripRiseKelvin - Math.Min(HottestRiseKelvin, celsius - referenceCelsius)) / TripRiseKelvin);
}
