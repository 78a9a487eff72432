using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Farberth.Grid.LoadFlow;

/// <summary>
/// The loads between three pairs of terminals of one bus, one lane each. From I = conj(S/v) and w = 1/|v|:
///   I = v·( conj(Z)/V0² + w·( conj(I)/V0 + w·conj(P) ) ).
/// </summary>
struct ZipLanes
{
    Phasors impedance;
    Phasors current;
    Phasors power;

    /// <summary>Keeps an idle lane at 0·finite, not 0·∞.</summary>
    static readonly Vector256<double> LeastSquaredVolts = Vector256.Create(1e-12);

    public void Add(int lane, ZipLoad load, double nominalVolts)
    {
        // Most loads are of one kind.
        if (load.Impedance != Complex.Zero)
            impedance = Plus(impedance, lane, load.Impedance / (nominalVolts * nominalVolts));
        if (load.Current != Complex.Zero)
            current = Plus(current, lane, load.Current / nominalVolts);
        if (load.Power != Complex.Zero)
            power = Plus(power, lane, load.Power);
    }

    public void Scale(double factor)
    {
        var scale = Vector256.Create(factor);
        (impedance, current, power) = (impedance * scale, current * scale, power * scale);
    }

    /// <summary>Amps drawn at these volts.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly Phasors AmpsAt(Phasors volts)
    {
        var w = Vector256<double>.One / Vector256.Sqrt(Vector256.Max(volts.Squared, LeastSquaredVolts));
        return volts * (impedance + (current + power * w) * w);
    }

    static Phasors Plus(Phasors sum, int lane, Complex voltAmperes) => new(
        sum.Re.WithElement(lane, sum.Re[lane] + voltAmperes.Real),
        sum.Im.WithElement(lane, sum.Im[lane] - voltAmperes.Imaginary));
}
