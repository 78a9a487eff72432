using System.Numerics;
using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using MathNet.Numerics.LinearAlgebra;
using Vector = MathNet.Numerics.LinearAlgebra.Vector<double>;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>
/// The same linear problem without the tree: unknowns x = (e, every a, every w), each with its prior, and every measured
/// volt a row h over x. Normal equations Σ h·hᵀ/σ² and Σ h·y/σ², solved at once with MathNet.Numerics.
/// </summary>
sealed class DenseReference
{
    readonly Dictionary<(string Bus, Leg Leg), Vector> volts = [];
    readonly Dictionary<(string Bus, Leg Leg), Vector> amps = [];
    readonly LoadFlowState about;
    readonly Vector prior;
    readonly Matrix<double> rows;
    readonly Vector deviations;
    readonly Vector information;
    Vector mean = null!;
    Matrix<double> covariance = null!;

    public DenseReference(
        LoadFlowState about, EstimatorNoise noise,
        IReadOnlyDictionary<(string Bus, Leg Leg), (double Volts, double Sd)> measured,
        IReadOnlyDictionary<(string Bus, Leg Leg), double> ampsSd)
    {
        this.about = about;
        var (feeder, legs) = (about.Feeder, about.Feeder.Supply.Legs);
        prior = Vector.Build.Dense(legs.Count * (1 + 2 * feeder.Branches.Count));
        foreach (var leg in legs)
        {
            volts[(feeder.Buses[0], leg)] = Unit((int)leg);
            prior[(int)leg] = 1 / (noise.SourceVoltsSd * noise.SourceVoltsSd);
        }
        PutAmps(ampsSd);
        PutVolts(noise);
        rows = Matrix<double>.Build.DenseOfRowVectors(measured.Keys.Select(place => volts[place]));
        deviations = Vector.Build.DenseOfEnumerable(measured.Select(one => one.Value.Volts - about.VoltsAt(one.Key.Bus, one.Key.Leg).Magnitude));
        information = Vector.Build.DenseOfEnumerable(measured.Values.Select(one => 1 / (one.Sd * one.Sd)));
    }

    /// <summary>Σ over measurements and priors of what each had to give way, squared, in standard deviations.</summary>
    public double SquaredResiduals => (rows * mean - deviations).PointwisePower(2) * information + mean.PointwisePower(2) * prior;

    public DenseReference Solve()
    {
        var weighted = rows.TransposeThisAndMultiply(Matrix<double>.Build.DenseOfDiagonalVector(information));
        covariance = (Matrix<double>.Build.DenseOfDiagonalVector(prior) + weighted * rows).Inverse();
        mean = covariance * (weighted * deviations);
        return this;
    }

    public (double Volts, double Sd) Volts(string bus, Leg leg) => Read(volts[(bus, leg)], about.VoltsAt(bus, leg).Magnitude);

    public (double Amps, double Sd) AmpsInto(string bus, Leg leg) => Read(amps[(bus, leg)], about.AmpsInto(bus, leg).Magnitude);

    Vector Unit(int at) => Vector.Build.Dense(prior.Count, i => i == at ? 1 : 0);

    (double, double) Read(Vector row, double start) => (start + row * mean, Math.Sqrt(row * covariance * row));

    void PutAmps(IReadOnlyDictionary<(string Bus, Leg Leg), double> sd)
    {
        var (feeder, legs) = (about.Feeder, about.Feeder.Supply.Legs);
        for (var branch = feeder.Branches.Count - 1; branch >= 0; branch--)
            foreach (var leg in legs)
            {
                var bus = feeder.Branches[branch].To;
                var at = legs.Count * (1 + branch) + (int)leg;
                prior[at] = 1 / (sd[(bus, leg)] * sd[(bus, leg)]);
                amps[(bus, leg)] = feeder.Outward(bus).Aggregate(Unit(at), (sum, child) => sum + amps[(child.To, leg)]);
            }
    }

    void PutVolts(EstimatorNoise noise)
    {
        var (feeder, legs) = (about.Feeder, about.Feeder.Supply.Legs);
        for (var branch = 0; branch < feeder.Branches.Count; branch++)
            foreach (var leg in legs)
            {
                var (from, bus) = (feeder.Branches[branch].From, feeder.Branches[branch].To);
                var ohms = legs.Select(column => Ohms(feeder.Branches[branch], leg, column)).ToList();
                var lost = legs.Sum(column => ohms[(int)column] * about.AmpsInto(bus, column).Magnitude);
                var sd = Math.Max(noise.LeastDropSd, noise.CableShare * Math.Abs(lost));
                var at = legs.Count * (1 + feeder.Branches.Count + branch) + (int)leg;
                prior[at] = 1 / (sd * sd);
                volts[(bus, leg)] = legs.Aggregate(volts[(from, leg)] + Unit(at), (row, column) => row - amps[(bus, column)] * ohms[(int)column]);
            }
    }

    double Ohms(Branch branch, Leg row, Leg column)
    {
        static Complex Unit(Complex phasor) => phasor / phasor.Magnitude;
        return (Complex.Conjugate(Unit(about.VoltsAt(branch.To, row)))
            * branch.Impedance.Loop(row, column) * Unit(about.AmpsInto(branch.To, column))).Real;
    }
}
