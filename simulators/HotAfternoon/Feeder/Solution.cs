using System.Numerics;

namespace Farberth.HotAfternoon;

/// <summary>Volts and amps of one dock at one step.</summary>
/// <param name="Volts">To the source's neutral terminal, at [node·lanes + lane].</param>
/// <param name="Amps">In the branch into a node, away from the source; for node 0 what the source gives.</param>
/// <param name="MismatchVolts">Largest change in the last round.</param>
public sealed record Solution(
    Tree Tree, Complex[] Volts, Complex[] Amps, int Rounds, double MismatchVolts, bool Settled, PowerBalance Balance)
{
    public Complex VoltsAt(int node, int lane) => Volts[node * Tree.Lanes + lane];

    public Complex AmpsInto(int node, int lane) => Amps[node * Tree.Lanes + lane];

    public Complex Between(int node, int from, int to) => VoltsAt(node, from) - VoltsAt(node, to);

    public Complex ToNeutral(int node, int leg) => Between(node, leg, Tree.Neutral);
}

/// <summary>Where the source's power goes, W + j var.</summary>
/// <param name="Source">Behind the transformer.</param>
/// <param name="Loads">By each load's own law at its final volts.</param>
/// <param name="Losses">In transformer, cables and cords.</param>
public readonly record struct PowerBalance(Complex Source, Complex Loads, Complex Losses);
