using Farberth.Grid.LoadFlow;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Placement;

// Near a state the load flow is a smooth function F of the amps a that the outlets draw (at nominal volts), one component for each
// limit of the dock: volts, amps, volt-amperes. With J = ∂F/∂a taken there,
//
//     F(a) ≈ F(a_fixed) + J·(a − a_fixed)
//
// where a_fixed is what the boats draw that stay as they are. F(a_fixed) is solved for each hour; J is taken once for a dock, with about
// half of what is to come already drawn, so that it is a secant of the range that matters and not the tangent at its end. Columns are
// differences of whole load flows over a step of 5 A, so J holds all that the load flow knows: the neutral that the legs share, the
// transformer's windings, motors that answer low volts with more amps.

/// <summary>How each limit of a dock answers to an ampere at each place where a boat can hang; worked out when asked for.</summary>
/// <param name="about">The draws about which J is taken.</param>
sealed class DockSensitivity(DockCase dock, IReadOnlyList<Draw> about)
{
    const double StepAmps = 5;

    readonly Dictionary<Connection, double[]> columns = [];
    readonly IReadOnlyList<double> centre = dock.Solve(about).Values;
    readonly LoadSet loads = dock.Loads(about);

    /// <summary>What one ampere on every contact of a berth does to each limit, in the order of the case's.</summary>
    public double[] Of(Berth berth)
    {
        var sum = new double[centre.Count];
        foreach (var outlet in berth.Outlets)
            for (var (at, column) = (0, Column(outlet)); at < sum.Length; at++)
                sum[at] += column[at];
        return sum;
    }

    double[] Column(BerthOutlet outlet)
    {
        if (!columns.TryGetValue(outlet.Connection, out var column))
        {
            var stepped = dock.Solve(loads, new(outlet.Pedestal, outlet.Outlet, StepAmps)).Values;
            columns[outlet.Connection] = column = [.. stepped.Zip(centre, (there, here) => (there - here) / StepAmps)];
        }
        return column;
    }
}
