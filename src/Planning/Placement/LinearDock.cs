using Farberth.Planning.Flow;

namespace Farberth.Planning.Placement;

/// <summary>A dock in the hours of a plan as the sensitivities see it, while berths are given away one by one.</summary>
sealed class LinearDock
{
    readonly DockProblem dock;
    readonly IReadOnlyList<int> hours;
    readonly double[][] values;
    readonly double[][] bounds;
    readonly bool[] areVolts;

    public LinearDock(PlacementProblem problem, DockProblem dock)
    {
        (this.dock, hours) = (dock, problem.Peaks);
        values = [.. hours.Select(slot => dock.FixedFlow(slot).Values.ToArray())];
        bounds = [.. hours.Select(slot => Enumerable.Range(0, values[0].Length).Select(limit => dock.Bound(slot, limit)).ToArray())];
        areVolts = [.. dock.Case.Limits.Select(limit => limit.Kind == LimitKind.Volts)];
    }

    /// <summary>The lowest volts while a guest is there, were it in a berth, and the hour.</summary>
    public (double Volts, int Slot) Lowest(Guest guest, double[] effect)
    {
        var (lowest, when) = (double.PositiveInfinity, 0);
        for (var hour = 0; hour < values.Length; hour++)
        {
            var (amps, here) = (guest.Amps[hours[hour]], values[hour]);
            if (amps == 0)
                continue;
            for (var at = 0; at < effect.Length; at++)
                if (areVolts[at] && here[at] + effect[at] * amps is var volts && volts < lowest)
                    (lowest, when) = (volts, hours[hour]);
        }
        return (lowest, when);
    }

    /// <summary>The limit that a guest would break by most, as far as the sensitivities see; null: none.</summary>
    public CheckedLimit? Broken(Guest guest, double[] effect)
    {
        CheckedLimit? worst = null;
        var least = 0.0;
        for (var hour = 0; hour < values.Length; hour++)
        {
            var (amps, here, bound) = (guest.Amps[hours[hour]], values[hour], bounds[hour]);
            if (amps == 0)
                continue;
            for (var at = 0; at < effect.Length; at++)
            {
                var value = here[at] + effect[at] * amps;
                var room = areVolts[at] ? value / bound[at] - 1 : 1 - value / bound[at];
                if (room < least && effect[at] != 0)
                    (least, worst) = (room, new(dock, hours[hour], at, value));
            }
        }
        return worst;
    }

    public void Take(Guest guest, double[] effect) => Add(guest, effect, 1);

    public void Leave(Guest guest, double[] effect) => Add(guest, effect, -1);

    void Add(Guest guest, double[] effect, double sign)
    {
        for (var hour = 0; hour < values.Length; hour++)
            for (var at = 0; at < effect.Length; at++)
                values[hour][at] += sign * effect[at] * guest.Amps[hours[hour]];
    }
}
