using System.Runtime.CompilerServices;

namespace Farberth.Grid.Network;

/// <summary>One number for each conductor; <see cref="double.NaN"/> where there is none. The unit is that of whoever holds it.</summary>
public readonly record struct PerLeg(double L1, double L2, double L3, double N = double.NaN)
{
    public static readonly PerLeg None = new(double.NaN, double.NaN, double.NaN);

    public double this[Leg leg]
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)] // asked for thousands of times a tick
        get => leg switch { Leg.L1 => L1, Leg.L2 => L2, Leg.L3 => L3, _ => N };
    }

    public bool Has(Leg leg) => !double.IsNaN(this[leg]);

    public PerLeg With(Leg leg, double value) => leg switch
    {
        Leg.L1 => this with { L1 = value },
        Leg.L2 => this with { L2 = value },
        Leg.L3 => this with { L3 = value },
        _ => this with { N = value },
    };

    /// <summary>The conductors that have a number, in order.</summary>
    public LegList Legs =>
        Subsets[(Has(Leg.L1) ? 1 : 0) + (Has(Leg.L2) ? 2 : 0) + (Has(Leg.L3) ? 4 : 0) + (Has(Leg.N) ? 8 : 0)];

    /// <summary>Every set of conductors, at the number whose bits it is.</summary>
    static readonly LegList[] Subsets =
        [.. Enumerable.Range(0, 16).Select(bits => LegList.Of([.. Enum.GetValues<Leg>().Where(leg => (bits >> (int)leg & 1) == 1)]))];
}
