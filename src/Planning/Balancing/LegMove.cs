using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Balancing;

/// <summary>An outlet of one leg on another one.</summary>
public sealed record LegMove(string Pedestal, string Outlet, Leg From, Leg To)
{
    public override string ToString() => $"{Pedestal}.{Outlet} from {From} to {To}";
}

/// <summary>What moves make of a dock over a record.</summary>
/// <param name="LowestVolts">Of any quarter-hour.</param>
/// <param name="MeanNeutralAmps">At the source, over all quarter-hours.</param>
/// <param name="MostNeutralAmps">In any.</param>
/// <param name="MeanImbalanceShare">Heaviest leg above the mean of the legs, as a share of it, weighted by the load.</param>
/// <param name="LossKilowattHours">In cables and transformer over the whole record.</param>
public sealed record BalanceOverTime(
    double LowestVolts, double MeanNeutralAmps, double MostNeutralAmps, double MeanImbalanceShare, double LossKilowattHours);

/// <summary>The best that so many moves can do.</summary>
public sealed record BalanceStep(IReadOnlyList<LegMove> Moves, BalanceOverTime After);

/// <summary>Which outlets to move to another leg.</summary>
/// <param name="Steps">One move, two, three and so on.</param>
/// <param name="Advised">The fewest moves that lift the lowest volts by four fifths of what any step does; null: no move is worth it.</param>
public sealed record LegBalance(DockDefinition Dock, BalanceOverTime Before, IReadOnlyList<BalanceStep> Steps, BalanceStep? Advised);
