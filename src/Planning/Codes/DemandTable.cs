using System.Collections.Immutable;
using Farberth.Grid.Conductors;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Codes;

/// <summary>One row of the demand-factor table.</summary>
/// <param name="Share">Of the sum of the ratings.</param>
public sealed record DemandRow(int FromReceptacles, int ToReceptacles, double Share, Mark Mark, string Where);

/// <summary>
/// Demand factors for shore-power receptacles, NEC table 555.6 (2020 and 2023; 555.12 from 2002 to 2017, 555-6 in 1999). It is a table of the
/// NEC alone: IEC 60364-7-709 leaves the diversity of socket-outlets to the designer and the national annex (from memory).
/// </summary>
public static class DemandTable
{
    const string Holt = "forums.mikeholt.com threads ";

    /// <summary>In the table's order. Band edges are from memory where only a point inside was read.</summary>
    public static ImmutableArray<DemandRow> Rows { get; } =
    [
        new(1, 4, 1.00, Mark.FromMemory, "not read"),
        new(5, 8, 0.90, Mark.FromMemory, "not read"),
        new(9, 14, 0.80, Mark.Confirmed, Holt + "105143: 10 receptacles; edges from memory"),
        new(15, 30, 0.70, Mark.Confirmed, Holt + "105143, 25225, 2555066: 15, 20 and 28; edges from memory"),
        new(31, 40, 0.60, Mark.Confirmed, Holt + "1074: 35; edges from memory"),
        new(41, 50, 0.50, Mark.Confirmed, "ecmweb.com code quiz: 45; " + Holt + "1074: 48; edges from memory"),
        new(51, 70, 0.40, Mark.FromMemory, "not read"),
        new(71, 100, 0.30, Mark.Confirmed, Holt + "2555066: 71; edges from memory"),
        new(101, int.MaxValue, 0.20, Mark.FromMemory, "not read"),
    ];

    /// <summary>Note 2: with a kilowatt-hour meter at each slip the calculated demand may be taken times 0.9 (from memory).</summary>
    public const double SubmeteredShare = 0.9;

    public static double Share(int receptacles) => receptacles == 0 ? 1 : Rows.First(row => receptacles <= row.ToReceptacles).Share;

    /// <summary>At 100 % of the rating and nominal volts (the rating counts in full: forums.mikeholt.com 27806).</summary>
    public static double VoltAmperes(SupplySystem supply, OutletDefinition outlet) => OutletPower.IsBetweenLegs(outlet)
        ? outlet.RatingAmps * supply.NominalVolts * (supply.Direction(outlet.Legs[0]) - supply.Direction(outlet.Legs[1])).Magnitude
        : outlet.RatingAmps * supply.NominalVolts * outlet.Legs.Count;

    /// <summary>
    /// Note 1: where a slip has receptacles of different kinds, only the larger kilowatts count, since one boat uses one of them. The others count
    /// neither as load nor as receptacles: the text is not clear on the second, and this is the reading that gives the larger demand.
    /// </summary>
    public static IReadOnlyList<(string Pedestal, OutletDefinition Outlet)> Counted(SupplySystem supply, DockDefinition dock) =>
    [
        .. dock.Pedestals.Values.SelectMany(pedestal => pedestal.Outlets.Values.Select(outlet => (pedestal.Name, outlet)))
            .GroupBy(found => found.outlet.Slip ?? $"{found.Name}.{found.outlet.Name}")
            .SelectMany(slip => slip.GroupBy(found => VoltAmperes(supply, found.outlet)).MaxBy(kind => kind.Key * kind.Count())!),
    ];

    /// <summary>The whole calculation for one dock.</summary>
    public static DockDemand Of(SupplySystem supply, DockDefinition dock, bool isSubmetered)
    {
        var counted = Counted(supply, dock);
        var connected = counted.Sum(found => VoltAmperes(supply, found.Outlet));
        var all = dock.Pedestals.Values.Sum(pedestal => pedestal.Outlets.Count);
        return new(counted.Count, all - counted.Count, connected, Share(counted.Count), isSubmetered ? SubmeteredShare : 1, supply);
    }
}

/// <summary>What the table asks of a dock's feeder.</summary>
/// <param name="LeftOut">Receptacles that note 1 lets out.</param>
/// <param name="MeterShare">0.9 with a meter at each slip, else 1.</param>
public sealed record DockDemand(int Receptacles, int LeftOut, double ConnectedVoltAmperes, double Share, double MeterShare, SupplySystem Supply)
{
    public double VoltAmperes => ConnectedVoltAmperes * Share * MeterShare;

    /// <summary>On each leg, were it shared evenly.</summary>
    public double AmpsPerLeg => VoltAmperes / (Supply.Legs.Count * Supply.NominalVolts);
}
