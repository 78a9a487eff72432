using CsCheck;
using Farberth.Grid.Protection;
using MathNet.Numerics.LinearAlgebra;

namespace Farberth.Grid.Tests.Protection;

public class ContactWearTests
{
    /// <summary>
    /// Bayes' rule for a linear model in information form, with a matrix library: Λ = P₀⁻¹ + Σ HᵀH/σ², Λ·x = P₀⁻¹·x₀ + Σ Hᵀy/σ².
    /// </summary>
    [Fact]
    public void Readings_taken_one_by_one_give_what_all_of_them_give_at_once() =>
        Gen.Select(Gen.Double[0.9, 3], Gen.Select(Gen.Double[0, 40], Gen.Double[-2, 2]).Array[1, 20]).Sample((factor, readings) =>
        {
            var (start, wear) = (ContactWear.Unknown, ContactWear.Unknown);
            var information = Covariance(start).Inverse();
            var sum = information * Vector<double>.Build.DenseOfArray([start.Factor, start.OffsetKelvin]);
            foreach (var (rise, error) in readings)
            {
                var above = factor * rise + error; // far from the floor of the factor
                wear = wear.Measured(above, rise);
                var h = Vector<double>.Build.DenseOfArray([rise, 1]);
                information += h.OuterProduct(h) / (ContactWear.SensorSd * ContactWear.SensorSd);
                sum += h * above / (ContactWear.SensorSd * ContactWear.SensorSd);
            }
            var covariance = information.Inverse();
            var mean = covariance * sum;
            Assert.Equal(mean[0], wear.Factor, 1e-6);
            Assert.Equal(mean[1], wear.OffsetKelvin, 1e-6);
            Assert.True((Covariance(wear) - covariance).L2Norm() < 1e-6);
        }, iter: 200);

    [Fact]
    public void The_factor_and_the_offset_are_learned_from_a_load_that_varies()
    {
        var wear = ContactWear.Unknown;
        for (var minute = 0; minute < 120; minute++)
        {
            var rise = minute % 40 < 20 ? 5 : 25.0;
            wear = wear.After(TimeSpan.FromMinutes(1)).Measured(1.7 * rise + 3, rise);
        }
        Assert.Equal(1.7, wear.Factor, 0.05);
        Assert.Equal(3, wear.OffsetKelvin, 0.7);
        Assert.InRange(wear.FactorSd, 0.001, 0.15);
    }

    /// <summary>The stated uncertainty holds the truth: drawn contacts, offsets and sensors, 95 % intervals.</summary>
    [Fact]
    public void Nineteen_of_twenty_contacts_lie_within_two_standard_deviations()
    {
        var random = new Random(11);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var within = 0;
        for (var contact = 0; contact < 1000; contact++)
        {
            var (factor, offset, wear) = (0.85 * Math.Exp(0.5 * Normal()), 4 * Normal(), ContactWear.Unknown);
            for (var reading = 0; reading < 30; reading++)
            {
                var rise = 20 * random.NextDouble();
                wear = wear.Measured(factor * rise + offset + ContactWear.SensorSd * Normal(), rise);
            }
            within += Math.Abs(wear.RiseKelvin(25) - (25 * factor + offset)) < 1.96 * wear.RiseSd(25) ? 1 : 0;
        }
        Assert.InRange(within, 930, 970);
    }

    /// <summary>A lognormal with median 0.85 and σ = 0.5: mean 0.85·e^(σ²/2), standard deviation mean·√(e^(σ²) - 1).</summary>
    [Fact]
    public void Before_anything_is_measured_contacts_are_as_assumed()
    {
        var mean = 0.85 * Math.Exp(0.125);
        Assert.Equal(mean, ContactWear.Unknown.Factor, 0.005);
        Assert.Equal(mean * Math.Sqrt(Math.Exp(0.25) - 1), ContactWear.Unknown.FactorSd, 0.005);
    }

    [Fact]
    public void What_was_learned_fades_into_what_is_assumed()
    {
        var learned = ContactWear.Unknown.Measured(60, 30);
        var later = learned.After(TimeSpan.FromDays(20));
        Assert.True(learned.FactorSd < 0.2);
        Assert.Equal(ContactWear.Unknown.Factor, later.Factor, 1e-3);
        Assert.Equal(ContactWear.Unknown.FactorSd, later.FactorSd, 1e-3);
    }

    [Fact]
    public void A_sensor_that_shows_only_the_air_makes_no_contact_cold()
    {
        var wear = ContactWear.Unknown;
        for (var minute = 0; minute < 500; minute++)
            wear = wear.After(TimeSpan.FromMinutes(1)).Measured(0, minute % 20 + 5);
        Assert.Equal(0.3, wear.Factor, 0.001);
    }

    static Matrix<double> Covariance(ContactWear wear) => Matrix<double>.Build.DenseOfArray(new[,]
        { { wear.FactorVariance, wear.Covariance }, { wear.Covariance, wear.OffsetVariance } });
}
