using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

// What two meters say of the cable between them. Conductors c = L1..L3, N; J_c the amps outwards, I_N = −ΣJ_k. The leg-
// to-neutral volts of the outer end are U_k' = U_k − Z_k·J_k + Z_N·I_N. Seen along the direction u_k of the leg's
// phasor, and with a joint that adds ΔR_c to conductor c of a cable of the length ℓ·(1 + ε):
//
//     |U_k| − |U_k'| = (1 + ε)·d_k + ΔR_k·j_k + ΔR_N·n_k
//     j_k = Re(conj(u_k)·J_k)         what the leg's own current loses in an ohm
//     n_k = Re(conj(u_k)·ΣJ)          what the neutral's return loses: it lowers the heavy leg and lifts the light one
//     d_k = Re(conj(u_k)·(Z_k·J_k + Z_N·ΣJ))   by the site file, at the temperature of now
//
// The part of the drop across u_k is left out: it counts by its square over 2·|U|, under a millivolt on a dock. The
// meters show M = (1 + g)·|U|, so of M_k − M_k' − d_k = z_k there remains, with γ_k = g_k − g_k',
//
//     z_k = ε·d_k + ΔR_k·j_k + ΔR_N·n_k + γ_k·M_k' + noise,
//
// linear in x = (ε, ΔR_L1, …, ΔR_N, γ_L1, …). Since M is nearly constant while J rises and falls with the day, γ and ΔR
// come apart after some hours. The sums of least squares, A = Σ h·hᵀ, b = Σ h·z, c = Σ z², n = Σ 1, are all that is kept:
// every minute adds to them, and before that all are multiplied by e^(−Δt/τ), so that what is old is forgotten.

/// <summary>Means of one minute of one leg of a cable between two meters.</summary>
/// <param name="ResidualVolts">z: what the meters say is lost, less what the site file says.</param>
/// <param name="FileDropVolts">d, by the site file.</param>
/// <param name="OwnAmps">j, the leg's current along its own volts.</param>
/// <param name="ReturnAmps">n, the sum of all legs' currents along this leg's volts.</param>
/// <param name="MeterVolts">M, at the outer end.</param>
public readonly record struct CableLegMinute(
    double ResidualVolts, double FileDropVolts, double OwnAmps, double ReturnAmps, double MeterVolts);

/// <summary>The sums of all that two meters have said of the cable between them. Unknowns: ε, ΔR by conductor, γ by leg.</summary>
public sealed class CableResistanceSums
{
    readonly double[,] a;
    readonly double[] b;
    readonly double[] h;

    /// <param name="legs">Line conductors, 1 to 3.</param>
    public CableResistanceSums(int legs)
    {
        Legs = legs;
        Unknowns = 1 + (legs + 1) + legs;
        (a, b, h) = (new double[Unknowns, Unknowns], new double[Unknowns], new double[Unknowns]);
    }

    public int Legs { get; }

    /// <summary>Minutes of single legs, after forgetting.</summary>
    public double Count { get; private set; }

    /// <summary>Where ε stands.</summary>
    internal const int Length = 0;

    internal int Unknowns { get; }

    /// <summary>c, V².</summary>
    internal double SquaredVolts { get; private set; }

    /// <summary>Where a conductor's ΔR stands; the neutral comes after the last leg.</summary>
    internal int Excess(Leg conductor) => 1 + (conductor == Leg.N ? Legs : (int)conductor);

    /// <summary>Where a leg's γ stands.</summary>
    internal int Gain(int leg) => 2 + Legs + leg;

    internal double A(int row, int column) => a[row, column];

    internal double B(int row) => b[row];

    /// <summary>Fades what is there.</summary>
    /// <param name="share">What is kept, e^(−Δt/τ).</param>
    public void Fade(double share)
    {
        for (var row = 0; row < Unknowns; row++)
        {
            b[row] *= share;
            for (var column = 0; column < Unknowns; column++)
                a[row, column] *= share;
        }
        SquaredVolts *= share;
        Count *= share;
    }

    /// <param name="leg">0 for L1.</param>
    public void Add(int leg, CableLegMinute minute)
    {
        Array.Clear(h);
        h[Length] = minute.FileDropVolts;
        h[Excess((Leg)leg)] = minute.OwnAmps;
        h[Excess(Leg.N)] = minute.ReturnAmps;
        h[Gain(leg)] = minute.MeterVolts;
        for (var row = 0; row < Unknowns; row++)
        {
            b[row] += h[row] * minute.ResidualVolts;
            for (var column = 0; column < Unknowns; column++)
                a[row, column] += h[row] * h[column];
        }
        SquaredVolts += minute.ResidualVolts * minute.ResidualVolts;
        Count++;
    }
}
