using System.Numerics;

namespace Farberth.Grid.Estimation;

/// <summary>A tree of cables, each with a meter at its outer end or none. A cable has the number of its outer end.</summary>
/// <param name="Parents">By cable: the cable that feeds it, a smaller number; −1 at the source.</param>
/// <param name="Directions">By leg: unit phasor at no load, 1 to 3 of them.</param>
public sealed record MeteredTree(IReadOnlyList<int> Parents, IReadOnlyList<Complex> Directions)
{
    public int Cables => Parents.Count;

    public int Legs => Directions.Count;

    /// <summary>J_c = I_c + Σ J of the cables that c feeds, outwards, A; by cable and leg.</summary>
    /// <param name="drawn">I, at the outer ends.</param>
    public Complex[,] Carried(Complex[,] drawn)
    {
        var carried = (Complex[,])drawn.Clone();
        for (var cable = Cables - 1; cable >= 0; cable--)
            if (Parents[cable] >= 0)
                for (var leg = 0; leg < Legs; leg++)
                    carried[Parents[cable], leg] += carried[cable, leg];
        return carried;
    }
}

/// <summary>Means of some minutes, the same number always, of all meters of a tree; every array by cable (that is, by its outer end), then by leg.</summary>
/// <param name="From">When these minutes began.</param>
/// <param name="Volts">Leg to neutral, V; NaN where no meter was heard.</param>
/// <param name="Amps">Drawn there, against the no-load phasors; where no meter was heard, a guess.</param>
/// <param name="AmpsSd">How far the guess may be off; 0 where a meter was heard.</param>
/// <param name="LineOhms">By cable: of a line conductor by the site file, at its temperature then.</param>
/// <param name="NeutralOhms">By cable: of the neutral.</param>
public sealed record TreeMeans(
    DateTimeOffset From, double[,] Volts, Complex[,] Amps, double[,] AmpsSd, Complex[] LineOhms, Complex[] NeutralOhms);
