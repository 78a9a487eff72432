using System.Numerics;
using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using MathNet.Numerics.LinearAlgebra;
using Vector = MathNet.Numerics.LinearAlgebra.Vector<double>;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>
/// The same linear problem without the tree: unknowns x = (e, every a, every w), every volt and amp a row over x, normal
/// equations solved at once with MathNet.Numerics.
/// </summary>
sealed class DenseReference
{
    readonly Dictionary<(string Bus, Leg Leg), Vector> volts = [];
    readonly Dictionary<(string Bus, Leg Leg), Vector> amps = [];
    readonly Vector mean;
    readonly Matrix<double> covariance;
    readonly EstimationCase its;

    public DenseReference(EstimationCase its, EstimatorNoise noise)
    {
        this.its = its;
        var legs = its.Feeder.Supply.Legs;
        var size = legs.Count * (1 + 2 * its.Feeder.Branches.Count);
        Vector Unit(int at) => Vector.Build.Dense(size, i => i == at ? 1 : 0);
        var information = Matrix<double>.Build.Dense(size, size);
        foreach (var leg in legs)
        {
            volts[("source", leg)] = Unit((int)leg);
            information[(int)leg, (int)leg] = 1 / (noise.SourceVoltsSd * noise.SourceVoltsSd);
        }
        PutAmps(information, Unit);
        PutVolts(information, noise, Unit);
        var right = Vector.Build.Dense(size);
        foreach (var ((bus, leg), (value, sd)) in its.Volts)
        {
            var row = volts[(bus, leg)];
            information += row.OuterProduct(row) / (sd * sd);
            right += row * ((value - its.About.VoltsAt(bus, leg).Magnitude) / (sd * sd));
        }
        covariance = information.Inverse();
        mean = covariance * right;
    }

    public (double Volts, double Sd) Volts(string bus, Leg leg) => Read(volts[(bus, leg)], its.About.VoltsAt(bus, leg).Magnitude);

    public (double Amps, double Sd) AmpsInto(string bus, Leg leg) => Read(amps[(bus, leg)], its.About.AmpsInto(bus, leg).Magnitude);

    (double, double) Read(Vector row, double about) => (about + row * mean, Math.Sqrt(row * covariance * row));

    void PutAmps(Matrix<double> information, Func<int, Vector> unit)
    {
        var legs = its.Feeder.Supply.Legs;
        for (var branch = its.Feeder.Branches.Count - 1; branch >= 0; branch--)
            foreach (var leg in legs)
            {
                var bus = its.Feeder.Branches[branch].To;
                var at = legs.Count * (1 + branch) + (int)leg;
                information[at, at] = 1 / (its.AmpsSd[(bus, leg)] * its.AmpsSd[(bus, leg)]);
                amps[(bus, leg)] = its.Feeder.Outward(bus).Aggregate(unit(at), (sum, child) => sum + amps[(child.To, leg)]);
            }
    }

    void PutVolts(Matrix<double> information, EstimatorNoise noise, Func<int, Vector> unit)
    {
        var legs = its.Feeder.Supply.Legs;
        for (var branch = 0; branch < its.Feeder.Branches.Count; branch++)
            foreach (var leg in legs)
            {
                var (from, bus) = (its.Feeder.Branches[branch].From, its.Feeder.Branches[branch].To);
                var ohms = legs.Select(column => Ohms(its.Feeder.Branches[branch], leg, column)).ToList();
                var lost = legs.Sum(column => ohms[(int)column] * its.About.AmpsInto(bus, column).Magnitude);
                var sd = Math.Max(noise.LeastDropSd, noise.CableShare * Math.Abs(lost));
                var at = legs.Count * (1 + its.Feeder.Branches.Count + branch) + (int)leg;
                information[at, at] = 1 / (sd * sd);
                volts[(bus, leg)] = legs.Aggregate(volts[(from, leg)] + unit(at), (row, column) => row - amps[(bus, column)] * ohms[(int)column]);
            }
    }

    double Ohms(Branch branch, Leg row, Leg column)
    {
        static Complex Unit(Complex phasor) => phasor / phasor.Magnitude;
        return (Complex.Conjugate(Unit(its.About.VoltsAt(branch.To, row)))
            * branch.Impedance.Loop(row, column) * Unit(its.About.AmpsInto(branch.To, column))).Real;
    }
}
