using System.Numerics;

namespace Farberth.HotAfternoon;

/// <summary>The volts of the tree with every load an impedance: exact, whatever ohms the cables have.</summary>
/// <remarks>
/// All that hangs on a node draws I = Y·V over its lanes, Y symmetric. A load of s siemens between lanes a and b adds s to Y_aa and Y_bb, −s to Y_ab.
/// The branch before the node puts z in series, lane by lane: V_k = V_k' − z·I_k, V_k' further in. With row k of I = Y·V,
///   V_k = (V_k' − z·Σ_{j≠k} Y_kj·V_j)/(1 + z·Y_kk)
/// and all of it seen from further in is (Sherman and Morrison's formula)
///   Y' = Y − Y_:k·Y_k:·z/(1 + z·Y_kk).
/// Inwards, each node's Y' is added to its parent's Y; outwards, V_k is found lane by lane, the last that was put in series first.
/// Loads and cables only take power, Re Y ≥ 0 and Re z ≥ 0, and do not lead where the other lags: 1 + z·Y_kk is never 0.
/// </remarks>
sealed class ImpedanceTree(Tree tree)
{
    readonly int lanes = tree.Lanes;
    readonly Complex[] siemens = new Complex[tree.Count * tree.Lanes * tree.Lanes];
    readonly Complex[] rows = new Complex[tree.Count * tree.Lanes * tree.Lanes];

    /// <param name="ofLoad">Siemens that a load has now.</param>
    /// <param name="branchOhms">At [node·lanes + lane]; those of node 0 are not used.</param>
    public void Inwards(IReadOnlyList<NodeLoad> loads, Func<NodeLoad, Complex> ofLoad, Complex[] branchOhms)
    {
        Array.Clear(siemens);
        foreach (var load in loads)
        {
            var s = ofLoad(load);
            siemens[At(load.Node, load.From, load.From)] += s;
            siemens[At(load.Node, load.To, load.To)] += s;
            siemens[At(load.Node, load.From, load.To)] -= s;
            siemens[At(load.Node, load.To, load.From)] -= s;
        }
        for (var node = tree.Count - 1; node > 0; node--)
        {
            for (var lane = 0; lane < lanes; lane++)
                PutInSeries(node, lane, branchOhms[node * lanes + lane]);
            for (var at = 0; at < lanes * lanes; at++)
                siemens[At(tree.Parents[node], 0, 0) + at] += siemens[At(node, 0, 0) + at];
        }
    }

    /// <summary>Volts of one lane of a node from those of its parent and of the node's lanes after it.</summary>
    public Complex VoltsOf(int node, int lane, Complex[] branchOhms, Complex[] volts)
    {
        var (inner, own, z) = (tree.Parents[node] * lanes, node * lanes, branchOhms[node * lanes + lane]);
        Complex others = 0;
        for (var other = 0; other < lanes; other++)
            if (other != lane)
                others += rows[At(node, lane, other)] * volts[(other < lane ? inner : own) + other];
        return (volts[inner + lane] - z * others) / (1 + z * rows[At(node, lane, lane)]);
    }

    void PutInSeries(int node, int lane, Complex z)
    {
        for (var column = 0; column < lanes; column++)
            rows[At(node, lane, column)] = siemens[At(node, lane, column)];
        var share = z / (1 + z * rows[At(node, lane, lane)]);
        for (var row = 0; row < lanes; row++)
            for (var column = 0; column < lanes; column++)
                siemens[At(node, row, column)] -= share * rows[At(node, lane, row)] * rows[At(node, lane, column)];
    }

    int At(int node, int row, int column) => (node * lanes + row) * lanes + column;
}
