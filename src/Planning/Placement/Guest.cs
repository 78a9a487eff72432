using Farberth.Planning.Loads;

namespace Farberth.Planning.Placement;

/// <summary>A boat for which a berth is sought: one that arrives, or one that lies there and may move.</summary>
/// <param name="Arrival">Of a boat that may move: from the plan's start until it leaves.</param>
/// <param name="MovesFrom">The slip that it lies in; null for one that arrives.</param>
/// <param name="Berths">Every way to lie that fits it and is free while it stays.</param>
/// <param name="Amps">On each leg contact in each hour of the plan; 0 while it is away.</param>
sealed record Guest(Arrival Arrival, string? MovesFrom, IReadOnlyList<Berth> Berths, IReadOnlyList<double> Amps)
{
    public Boat Boat => Arrival.Boat;

    public bool Wishes(Berth berth) =>
        (Arrival.WishedDock == null || berth.Dock == Arrival.WishedDock)
        && (Arrival.WishedSlips.Count == 0 || Arrival.WishedSlips.Contains(berth.Slip));
}
