using System.Numerics;

namespace Farberth.HotAfternoon;

/// <summary>What a load asks for, VA at the nominal volts of its connection, split by how it answers to volts.</summary>
/// <remarks>
/// S(u) = S_z·u² + S_i·u + S_p, u = |V|/V_nominal; positive imaginary part: lagging.
/// Below u = 0.7 the other two parts go on as impedances, S_i·u²/0.7 and S_p·(u/0.7)²: no load draws ever more amps
/// from no volts, nor any (the customary escape of load-flow programs; common practice).
/// </remarks>
public readonly record struct Demand(Complex ConstantImpedance, Complex ConstantCurrent, Complex ConstantPower)
{
    const double ImpedanceBelow = 0.7;

    public static readonly Demand None;

    /// <summary>The impedance that draws as much at nominal volts.</summary>
    public Demand AsImpedance => new(ConstantImpedance + ConstantCurrent + ConstantPower, 0, 0);

    public static Demand Resistive(double watts) => new(watts, 0, 0);

    /// <param name="powerFactor">Lagging, 0 to 1.</param>
    public static Demand Steady(double watts, double powerFactor) => new(0, 0, Lagging(watts, powerFactor));

    public static Complex Lagging(double watts, double powerFactor) =>
        new(watts, watts * Math.Tan(Math.Acos(powerFactor)));

    /// <summary>VA drawn at a share of nominal volts.</summary>
    public Complex At(double u)
    {
        var held = u >= ImpedanceBelow ? 1 : u * u / (ImpedanceBelow * ImpedanceBelow);
        return ConstantImpedance * (u * u) + ConstantCurrent * (u * Math.Min(1, u / ImpedanceBelow)) + ConstantPower * held;
    }

    public static Demand operator +(Demand a, Demand b) => new(
        a.ConstantImpedance + b.ConstantImpedance,
        a.ConstantCurrent + b.ConstantCurrent,
        a.ConstantPower + b.ConstantPower);

    public static Demand operator *(Demand demand, double share) =>
        new(demand.ConstantImpedance * share, demand.ConstantCurrent * share, demand.ConstantPower * share);

    public static Demand Multiply(Demand left, double right) => left * right;

    public static Demand Add(Demand left, Demand right) => left + right;
}
