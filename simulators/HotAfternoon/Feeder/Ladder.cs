using System.Numerics;

namespace Farberth.HotAfternoon;

/// <summary>The simulator's own network solution: a ladder up and down the tree, with an explicit neutral.</summary>
/// <remarks>
/// Load between lanes a and b of node n: I = conj(S(|V_ab|)/V_ab), out of a, into b.
/// Inwards:  I_n = Σ loads at n + Σ I_child, per lane (the neutral carries what comes back, so Σ over lanes = 0).
/// Outwards: V_0k = E_k − Σ_m Z_km·I_0m for the legs, V_0N = 0; V_n = V_parent − Z_n·I_n, per lane.
/// A neutral that has failed: Z_N·Y is then not small, Y = Σ I/V of the loads to neutral beyond, and the round above would swing ever
/// wider. The current answers the neutral's volts, I_N(v) ≈ I_N + Y·(v − v_N), and with that, instead,
///   v_n = (v_parent − Z_N·I_N + Z_N·Y·v_N)/(1 + Z_N·Y),
/// which rests at the same volts and for Z_N → ∞ where no current is left in the neutral.
/// Rounds repeat until no volt moves by more than 1e-10 of the nominal. Loads that hold their watts answer the other way, so that with
/// a neutral open the rounds can swing all the same: then they begin anew from flat volts, and each load is the impedance that it has at
/// the volts of the round before (<see cref="ImpedanceTree"/>): one that gets less volts draws more, and gets less still, until it
/// holds its watts no longer. Where that does not settle either, every load is the impedance that it is at nominal volts, and the volts are exact.
/// Balance: Σ E·conj(I_0) = Σ S(|V|) + Σ Z·|I|² + transformer; the loads' term uses their law at the final volts, so
/// that the balance only closes where the rounds have settled.
/// Volts and amps are RMS phasors; amps count positive away from the source; lagging vars are positive.
/// </remarks>
public sealed class Ladder(Tree tree, Complex[] emf, Complex[,] sourceOhms)
{
    const int MostRounds = 100;
    const double Tolerance = 1e-10;
    const double WeakNeutral = 0.3;

    readonly Complex[] volts = FlatStart(tree, emf);
    readonly Complex[] amps = new Complex[tree.Count * tree.Lanes];
    readonly Complex[] siemens = new Complex[tree.Count];
    readonly ImpedanceTree impedances = new(tree);

    /// <param name="branchOhms">At [node·lanes + lane]; those of node 0 are not used.</param>
    public Solution Solve(Complex[] branchOhms, IReadOnlyList<NodeLoad> loads)
    {
        var limit = Tolerance * emf[0].Magnitude;
        var (rounds, mismatch) = Rounds(limit, () => Answered(branchOhms, loads));
        if (mismatch <= limit)
            return Solved(branchOhms, loads, rounds, mismatch, limit);
        (rounds, mismatch) = Anew(branchOhms, loads, limit);
        if (mismatch <= limit)
            return Solved(branchOhms, loads, rounds, mismatch, limit);
        NodeLoad[] held = [.. loads.Select(load => load with { Demand = load.Demand.AsImpedance })];
        (rounds, mismatch) = Anew(branchOhms, held, limit);
        return Solved(branchOhms, held, rounds, mismatch, limit);
    }

    Solution Solved(Complex[] branchOhms, IReadOnlyList<NodeLoad> loads, int rounds, double mismatch, double limit) =>
        new(tree, [.. volts], [.. amps], rounds, mismatch, mismatch <= limit, Balance(branchOhms, loads));

    (int Rounds, double MismatchVolts) Anew(Complex[] branchOhms, IReadOnlyList<NodeLoad> loads, double limit)
    {
        FlatStart(tree, emf).CopyTo(volts, 0);
        var end = Rounds(limit, () => AsImpedances(branchOhms, loads));
        Inwards(loads);
        return end;
    }

    /// <param name="round">By how many volts it has moved what moved most.</param>
    static (int Rounds, double MismatchVolts) Rounds(double limit, Func<double> round)
    {
        var mismatch = double.PositiveInfinity;
        var rounds = 0;
        while (mismatch > limit && rounds < MostRounds)
        {
            mismatch = round();
            rounds++;
        }
        return (rounds, mismatch);
    }

    double Answered(Complex[] branchOhms, IReadOnlyList<NodeLoad> loads)
    {
        Inwards(loads);
        return Outwards(branchOhms);
    }

    double AsImpedances(Complex[] branchOhms, IReadOnlyList<NodeLoad> loads)
    {
        Inwards(loads);
        impedances.Inwards(loads, SiemensNow, branchOhms);
        var most = SourceTerminals();
        for (var node = 1; node < tree.Count; node++)
            for (var lane = tree.Lanes - 1; lane >= 0; lane--)
                most = Math.Max(most, Set(node * tree.Lanes + lane, impedances.VoltsOf(node, lane, branchOhms, volts)));
        return most;
    }

    /// <summary>I/V at the volts of the round before.</summary>
    Complex SiemensNow(NodeLoad load)
    {
        var u = Math.Max(Across(load).Magnitude / load.NominalVolts, 1e-6);
        return Complex.Conjugate(load.Demand.At(u)) / (u * u * load.NominalVolts * load.NominalVolts);
    }

    Complex Across(NodeLoad load) => volts[load.Node * tree.Lanes + load.From] - volts[load.Node * tree.Lanes + load.To];

    void Inwards(IReadOnlyList<NodeLoad> loads)
    {
        Array.Clear(amps);
        Array.Clear(siemens);
        foreach (var load in loads)
        {
            var across = Across(load);
            if (across == Complex.Zero)
                continue;
            var drawn = Complex.Conjugate(load.Demand.At(across.Magnitude / load.NominalVolts) / across);
            amps[load.Node * tree.Lanes + load.From] += drawn;
            amps[load.Node * tree.Lanes + load.To] -= drawn;
            siemens[load.Node] += load.To == tree.Neutral ? drawn / across : 0;
        }
        for (var node = tree.Count - 1; node > 0; node--)
        {
            siemens[tree.Parents[node]] += siemens[node];
            for (var lane = 0; lane < tree.Lanes; lane++)
                amps[tree.Parents[node] * tree.Lanes + lane] += amps[node * tree.Lanes + lane];
        }
    }

    double Outwards(Complex[] branchOhms)
    {
        var most = SourceTerminals();
        for (var node = 1; node < tree.Count; node++)
            for (var lane = 0; lane < tree.Lanes; lane++)
            {
                var at = node * tree.Lanes + lane;
                var inner = volts[tree.Parents[node] * tree.Lanes + lane];
                var answer = lane == tree.Neutral ? branchOhms[at] * siemens[node] : 0;
                var outer = inner - branchOhms[at] * amps[at];
                most = Math.Max(most, Set(at, answer.Magnitude < WeakNeutral ? outer : volts[at] + (outer - volts[at]) / (1 + answer)));
            }
        return most;
    }

    double SourceTerminals()
    {
        var most = 0.0;
        for (var leg = 0; leg < tree.Neutral; leg++)
        {
            var v = emf[leg];
            for (var other = 0; other < tree.Neutral; other++)
                v -= sourceOhms[leg, other] * amps[other];
            most = Math.Max(most, Set(leg, v));
        }
        return most;
    }

    double Set(int at, Complex value)
    {
        var moved = (value - volts[at]).Magnitude;
        volts[at] = value;
        return moved;
    }

    PowerBalance Balance(Complex[] branchOhms, IReadOnlyList<NodeLoad> loads)
    {
        Complex source = 0, losses = 0, drawn = 0;
        for (var leg = 0; leg < tree.Neutral; leg++)
        {
            source += emf[leg] * Complex.Conjugate(amps[leg]);
            losses += (emf[leg] - volts[leg]) * Complex.Conjugate(amps[leg]);
        }
        for (var at = tree.Lanes; at < amps.Length; at++)
            losses += branchOhms[at] * (amps[at].Real * amps[at].Real + amps[at].Imaginary * amps[at].Imaginary);
        foreach (var load in loads)
            drawn += load.Demand.At(Across(load).Magnitude / load.NominalVolts);
        return new PowerBalance(source, drawn, losses);
    }

    static Complex[] FlatStart(Tree tree, Complex[] emf)
    {
        var flat = new Complex[tree.Count * tree.Lanes];
        for (var at = 0; at < flat.Length; at++)
            flat[at] = at % tree.Lanes == tree.Neutral ? 0 : emf[at % tree.Lanes];
        return flat;
    }
}
