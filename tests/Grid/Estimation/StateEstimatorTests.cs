using CsCheck;
using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.Estimation;

public class StateEstimatorTests
{
    [Fact]
    public void The_elimination_along_the_tree_gives_what_the_dense_normal_equations_give()
    {
        EstimationCase.Any.Where(its => its.Volts.Count > 0).Sample(its =>
        {
            var noise = EstimatorNoise.Usual(its.Feeder.Supply);
            var found = new StateEstimator(its.Feeder, noise).Run(its.Measured, its.About);
            var dense = new DenseReference(its.About, noise, its.Volts, its.AmpsSd).Solve();
            Assert.Equal(dense.SquaredResiduals, found.SquaredResiduals, 1e-6 * (1 + dense.SquaredResiduals));
            Assert.Equal(its.Volts.Count, found.Degrees);
            foreach (var bus in its.Feeder.Buses.Skip(1))
                foreach (var leg in its.Feeder.Supply.Legs)
                {
                    Near(dense.Volts(bus, leg), found.Volts(bus, leg));
                    Near(dense.AmpsInto(bus, leg), found.AmpsInto(bus, leg));
                }
        }, iter: 100);
    }

    /// <summary>Readings that are a load flow come back as that load flow.</summary>
    [Fact]
    public void Exact_readings_give_the_load_flow_to_a_microvolt()
    {
        EstimationCase.Any.Sample(its =>
        {
            foreach (var (bus, leg) in its.Volts.Keys)
                its.Measured.SetVolts(bus, leg, its.About.VoltsAt(bus, leg).Magnitude, 0.1);
            var found = new StateEstimator(its.Feeder, EstimatorNoise.Usual(its.Feeder.Supply)).Run(its.Measured, its.About);
            foreach (var bus in its.Feeder.Buses)
                foreach (var leg in its.Feeder.Supply.Legs)
                    Assert.Equal(its.About.VoltsAt(bus, leg).Magnitude, found.Volts(bus, leg).Volts, 1e-6);
        }, iter: 100);
    }

    /// <summary>
    /// The residuals of all measured volts about the estimate, scaled, are normal: 95 % within 1.96 (any printed table of the
    /// normal distribution). Here the measured volts come from the model itself, so this checks the arithmetic of the residual.
    /// </summary>
    [Fact]
    public void A_gross_error_stands_out_by_its_normalised_residual()
    {
        var feeder = Line(12);
        var (loads, measured) = (new LoadSet(feeder), new Measurements(feeder));
        foreach (var bus in feeder.Buses.Skip(1))
        {
            loads.Add(bus, Leg.L1, ZipLoad.ConstantCurrent(8, 0.95, 120));
            measured.SetAmps(bus, Leg.L1, 8, 0.1);
        }
        var about = Sweep.Solve(loads).State;
        double Volts(string bus) => about.VoltsAt(bus, Leg.L1).Magnitude + (bus == "B7" ? 4 : 0);
        foreach (var bus in feeder.Buses.Skip(1))
            measured.SetVolts(bus, Leg.L1, Volts(bus), 0.3);
        var found = new StateEstimator(feeder, EstimatorNoise.Usual(feeder.Supply)).Run(measured, about);
        var residuals = feeder.Buses.Skip(1).ToDictionary(bus => bus, bus => Math.Abs(found.NormalisedResidual(bus, Leg.L1, Volts(bus), 0.3)));
        Assert.Equal("B7", residuals.MaxBy(pair => pair.Value).Key);
        Assert.InRange(residuals["B7"], 10, 14);

        var estimator = new StateEstimator(feeder, EstimatorNoise.Usual(feeder.Supply));
        Assert.Equal(("B7", Leg.L1), DoubtfulReadings.SetAside(estimator, measured, about).Select(d => (d.Bus, d.Leg)).Single());
        Assert.Equal(about.VoltsAt("B7", Leg.L1).Magnitude, estimator.Estimate.Volts("B7", Leg.L1).Volts, 1e-6);
    }

    /// <summary>What all other readings say is what an estimate says that never saw this one.</summary>
    [Fact]
    public void A_reading_can_be_taken_out_of_the_estimate_again()
    {
        EstimationCase.Any.Where(its => its.Volts.Count > 0).Sample(its =>
        {
            var estimator = new StateEstimator(its.Feeder, EstimatorNoise.Usual(its.Feeder.Supply));
            var ((bus, leg), (value, sd)) = its.Volts.First();
            var without = estimator.Run(its.Measured, its.About).VoltsWithout(bus, leg, value, sd);
            its.Measured.ClearVolts(bus, leg);
            var (expected, expectedSd) = estimator.Run(its.Measured, its.About).Volts(bus, leg);
            Assert.Equal(expected, without.Volts, 1e-3 * expectedSd);
            Assert.Equal(1, without.Sd / expectedSd, 1e-3);
        }, iter: 100);
    }

    [Fact]
    public void A_bus_with_no_meter_beyond_it_is_less_certain_the_more_its_load_is_a_guess()
    {
        var feeder = Line(6);
        var (loads, measured) = (new LoadSet(feeder), new Measurements(feeder));
        foreach (var bus in feeder.Buses.Skip(1).Take(5))
            measured.SetVolts(bus, Leg.L1, 120, 0.1);
        var about = Sweep.Solve(loads).State;
        double Sd(double guessSd)
        {
            measured.SetAmps("B6", Leg.L1, 0, guessSd);
            return new StateEstimator(feeder, EstimatorNoise.Usual(feeder.Supply)).Run(measured, about).Volts("B6", Leg.L1).Sd;
        }
        Assert.True(Sd(0.1) < Sd(5) && Sd(5) < Sd(20));
    }

    [Fact]
    public void An_estimate_allocates_nothing()
    {
        var its = EstimationCase.Any.Single();
        var estimator = new StateEstimator(its.Feeder, EstimatorNoise.Usual(its.Feeder.Supply));
        estimator.Run(its.Measured, its.About);
        var before = GC.GetAllocatedBytesForCurrentThread();
        estimator.Run(its.Measured, its.About);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    static Feeder Line(int buses) => new(
        SupplySystem.SplitPhase120, "B0", new PerLeg(120, 120, double.NaN),
        Enumerable.Range(1, buses).Select(at => new Branch($"B{at - 1}", $"B{at}",
            ImpedanceMatrix.Separate(SupplySystem.SplitPhase120, new(0.01, 0.005), new(0.01, 0.005)))));

    static void Near((double Value, double Sd) expected, (double Value, double Sd) found)
    {
        Assert.Equal(expected.Value, found.Value, 1e-5); // of some 100 V: what two ways of rounding differ by
        Assert.Equal(1, found.Sd / expected.Sd, 1e-5);
    }
}
