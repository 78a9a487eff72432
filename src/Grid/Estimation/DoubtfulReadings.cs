using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>A measured voltage that does not fit what all the others say.</summary>
/// <param name="Residual">Standard deviations it is off.</param>
public sealed record DoubtfulReading(string Bus, Leg Leg, double Residual);

/// <summary>
/// Largest normalised residual: of the measured volts, the one furthest from the estimate for its standard deviation is set
/// aside and the estimate made again, until none is further than 4.5. A normal residual passes that once in 150 000
/// times (2·Φ(−4.5) = 6.8e-6). One gross error at a time is told for certain; several that agree with each other are not. Where
/// more than a third of the readings would have to go, it is the model that is wrong and not the meters: all are kept.
/// </summary>
public static class DoubtfulReadings
{
    const double TooFar = 4.5;
    const int OneOf = 3;

    /// <param name="measured">Those set aside are cleared.</param>
    /// <returns>What was set aside, worst first; the estimator holds the estimate from the rest.</returns>
    public static IReadOnlyList<DoubtfulReading> SetAside(StateEstimator estimator, Measurements measured, LoadFlowState about)
    {
        var (doubtful, aside) = (new List<DoubtfulReading>(), new List<Measured>());
        var most = estimator.Run(measured, about).Degrees / OneOf;
        while (Furthest(measured, estimator.Estimate) is { } furthest)
        {
            if (doubtful.Count == most)
                return KeepAll(estimator, measured, about, doubtful, aside);
            doubtful.Add(furthest);
            aside.Add(measured.Volts[measured.Feeder[furthest.Bus] * Measurements.MaxLegs + (int)furthest.Leg]);
            measured.ClearVolts(furthest.Bus, furthest.Leg);
            estimator.Run(measured, about);
        }
        return doubtful;
    }

    static IReadOnlyList<DoubtfulReading> KeepAll(
        StateEstimator estimator, Measurements measured, LoadFlowState about, List<DoubtfulReading> doubtful, List<Measured> aside)
    {
        foreach (var (one, reading) in doubtful.Zip(aside))
            measured.SetVolts(one.Bus, one.Leg, reading.Value, reading.Sd);
        estimator.Run(measured, about);
        return [];
    }

    static DoubtfulReading? Furthest(Measurements measured, FeederEstimate estimate)
    {
        DoubtfulReading? furthest = null;
        var legs = measured.Feeder.Supply.Legs.Count;
        for (var bus = 1; bus < measured.Feeder.Buses.Count; bus++)
            for (var leg = 0; leg < legs; leg++)
            {
                var reading = measured.Volts[bus * Measurements.MaxLegs + leg];
                var residual = reading.IsThere ? estimate.NormalisedResidual(bus, leg, reading.Value, reading.Sd) : 0;
                if (Math.Abs(residual) > Math.Max(TooFar, Math.Abs(furthest?.Residual ?? 0)))
                    furthest = new(measured.Feeder.Buses[bus], (Leg)leg, residual);
            }
        return furthest;
    }
}
