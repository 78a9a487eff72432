using Farberth.Planning.Loads;

namespace Farberth.Planning.Placement;

/// <summary>A boat for which a berth is sought: one that arrives, or one that lies there and may move.</summary>
/// <param name="arrival">Of a boat that may move: from the plan's start until it leaves.</param>
/// <param name="movesFrom">The slip that it lies in; null for one that arrives.</param>
/// <param name="berths">Every way to lie that fits it and is free while it stays.</param>
/// <param name="amps">On each leg contact in each hour of the plan; 0 while it is away.</param>
sealed class Guest(Arrival arrival, string? movesFrom, IReadOnlyList<Berth> berths, double[] amps)
{
    public Arrival Arrival => arrival;

    public string? MovesFrom => movesFrom;

    public IReadOnlyList<Berth> Berths => berths;

    public double[] Amps => amps;

    public Boat Boat => arrival.Boat;

    public bool Wishes(Berth berth) =>
        (arrival.WishedDock == null || berth.Dock == arrival.WishedDock)
        && (arrival.WishedSlips.Count == 0 || arrival.WishedSlips.Contains(berth.Slip));
}
