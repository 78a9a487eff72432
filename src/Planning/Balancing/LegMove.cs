using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Balancing;

/// <summary>An outlet on other legs.</summary>
/// <param name="From">Of its contacts, as they are.</param>
/// <param name="To">Of the same contacts: other legs, or the same ones in another order.</param>
public sealed record LegMove(string Pedestal, string Outlet, LegList From, LegList To)
{
    /// <summary>A draw of that outlet, of all its contacts or of some, as it would be then; any other as it is.</summary>
    public Draw Of(Draw draw) => !IsOf(draw) ? draw : draw with { Outlet = draw.Outlet with { Legs = LegList.Of([.. draw.Outlet.Legs.Select(LegOf)]) } };

    public bool IsOf(Draw draw) => draw.Pedestal == Pedestal && draw.Outlet.Name == Outlet;

    /// <summary>The same outlet wired in the same way.</summary>
    public bool Equals(LegMove? other) => other != null && (Pedestal, Outlet) == (other.Pedestal, other.Outlet) && To.SequenceEqual(other.To);

    public override int GetHashCode() => HashCode.Combine(Pedestal, Outlet, To[0]);

    public override string ToString() => $"{Pedestal}.{Outlet} from {string.Join('+', From)} to {string.Join('+', To)}";

    Leg LegOf(Leg own) => To[From.TakeWhile(leg => leg != own).Count()];
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
