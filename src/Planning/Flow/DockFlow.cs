using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Flow;

/// <summary>What stated loads make of a dock.</summary>
public sealed class DockFlow
{
    readonly double[] values;

    internal DockFlow(DockCase @case, LoadFlowResult result)
    {
        (Case, Result) = (@case, result);
        values = new double[@case.Limits.Count];
        for (var at = 0; at < values.Length; at++)
            values[at] = Value(@case.Limits[at], @case.LimitBuses[at]);
    }

    public DockCase Case { get; }

    public LoadFlowResult Result { get; }

    /// <summary>Where the loads are more than the dock can carry, at the share of them that it can.</summary>
    public LoadFlowState State => Result.State;

    /// <summary>For each of the case's limits, V, A or VA.</summary>
    public IReadOnlyList<double> Values => values;

    /// <summary>The limit with the least room, and its value.</summary>
    public (DockLimit Limit, double Value) Tightest => Case.Limits.Zip(values).MinBy(pair => pair.First.Room(pair.Second));

    /// <summary>Every limit is kept.</summary>
    public bool IsGood => Result.Converged && Tightest is var (limit, value) && limit.Room(value) >= 0;

    /// <summary>The lowest leg-to-neutral volts of any pedestal.</summary>
    public (string Pedestal, Leg Leg, double Volts) Lowest
    {
        get
        {
            var (limit, volts) = Case.Limits.Zip(values).Where(pair => pair.First.Kind == LimitKind.Volts).MinBy(pair => pair.Second);
            return (limit.Place, limit.Leg, volts);
        }
    }

    /// <summary>Drawn from behind the transformer, VA.</summary>
    public double SourceVoltAmperes => State.VoltAmperesInto(DockDefinition.SourcePoint).Magnitude;

    /// <summary>Lost in cables and transformer, W.</summary>
    public double LossWatts => State.Feeder.Branches.Sum(branch => State.LossInto(branch.To).Real);

    double Value(DockLimit limit, int bus) => limit.Kind switch
    {
        LimitKind.Volts => State.VoltsAt(bus, limit.Leg).Magnitude,
        LimitKind.Transformer => SourceVoltAmperes,
        _ => State.AmpsInto(bus, limit.Leg).Magnitude,
    };
}
