using System.Numerics;

namespace Farberth.Grid.LoadFlow;

/// <summary>
/// A load as a mix of constant impedance, constant current and constant power, each part stated in volt-amperes at the
/// nominal volts V0 between its terminals: S(v) = Z·(v/V0)² + I·(v/V0) + P. Positive watts are drawn, positive vars lag.
/// </summary>
public readonly record struct ZipLoad(Complex Impedance, Complex Current, Complex Power)
{
    public static ZipLoad ConstantPower(Complex voltAmperes) => new(0, 0, voltAmperes);

    public static ZipLoad ConstantImpedance(Complex voltAmperes) => new(voltAmperes, 0, 0);

    /// <summary>Amps that stay as they are whatever the volts, at a lagging power factor.</summary>
    /// <param name="nominalVolts">Between the load's terminals.</param>
    public static ZipLoad ConstantCurrent(double amps, double powerFactor, double nominalVolts) =>
        new(0, amps * nominalVolts * new Complex(powerFactor, Math.Sqrt(1 - powerFactor * powerFactor)), 0);

    /// <summary>
    /// Amps that answer to the volts as I ∝ V^n about the volts V1 at which they are known: the mix of constant impedance and
    /// current (n above 0) or power and current (n below 0) with the same amps and the same slope there, d ln I / d ln V = n.
    /// At a tenth more or less than V1 its amps are within 0.15 % of V^n.
    /// </summary>
    /// <param name="volts">V1, between the load's terminals; above 0.</param>
    /// <param name="response">n; taken as −1 below −1 and as 1 above 1.</param>
    /// <param name="nominalVolts">V0, between the load's terminals.</param>
    public static ZipLoad Responding(double amps, double powerFactor, double volts, double response, double nominalVolts)
    {
        var n = Math.Clamp(response, -1, 1);
        var share = nominalVolts / volts;
        var all = amps * volts * new Complex(powerFactor, Math.Sqrt(1 - powerFactor * powerFactor));
        return new(Math.Max(n, 0) * share * share * all, (1 - Math.Abs(n)) * share * all, Math.Max(-n, 0) * all);
    }

    /// <summary>An impedance in ohm between the terminals.</summary>
    public static ZipLoad OfOhms(Complex ohms, double nominalVolts) =>
        ConstantImpedance(nominalVolts * nominalVolts / Complex.Conjugate(ohms));

    public static ZipLoad operator +(ZipLoad a, ZipLoad b) =>
        new(a.Impedance + b.Impedance, a.Current + b.Current, a.Power + b.Power);

    public static ZipLoad operator *(ZipLoad load, double factor) =>
        new(load.Impedance * factor, load.Current * factor, load.Power * factor);

    /// <summary>Volt-amperes at a share of the nominal volts.</summary>
    public Complex At(double share) => Impedance * (share * share) + Current * share + Power;
}
