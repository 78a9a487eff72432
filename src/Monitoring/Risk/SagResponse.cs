namespace Farberth.Monitoring.Risk;

/// <summary>
/// How a load's amps move with its volts: I(V) = I·(V'/V)^n, n = +1 for a heater, 0 for constant current, −1 for constant
/// power. A motor on a sagging dock is near −1: it draws more amps to do the same work.
/// </summary>
public static class SagResponse
{
    /// <summary>Amps at other volts, from the amps at these.</summary>
    public static double AmpsAt(double otherVolts, double amps, double volts, double response) =>
        amps * Math.Pow(otherVolts / volts, response);
}
