using Farberth.Grid.Estimation;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.Estimation;

/// <summary>A cable whose ohms, gains and joints are known, and two noisy meters.</summary>
public class JointsFitTests
{
    static readonly JointsPrior Prior = new(
        LengthShareSd: 0.05, ExcessOhmsSd: 0.5, GainShareSd: 0.01, NoiseVoltsSd: 0.02, MinutesAlike: 1, Threshold: 4);

    [Theory]
    [InlineData(Leg.L1)]
    [InlineData(Leg.L2)]
    [InlineData(Leg.N)]
    public void A_joint_is_found_in_its_conductor_with_its_ohms(Leg conductor)
    {
        var joint = Assert.Single(JointsFit.Of(Day(2, conductor, 0.02), Prior).Joints);
        Assert.Equal(conductor, joint.Conductor);
        Assert.Equal(0.02, joint.ExcessOhms, 4 * joint.ExcessOhmsSd);
        Assert.InRange(joint.ExcessOhmsSd, 0, 0.001);
        Assert.Empty(joint.OrElse);
    }

    [Fact]
    public void A_wrong_length_and_wrong_gains_are_no_joint()
    {
        var fit = JointsFit.Of(Day(2, Leg.N, 0, length: 0.08, gain: 0.008), Prior);
        Assert.Empty(fit.Joints);
        Assert.Equal(0.08, fit.LengthShare, 0.03);
    }

    [Fact]
    public void The_noise_is_learned() => Assert.Equal(0.05, JointsFit.Of(Day(2, Leg.L1, 0.02), Prior).NoiseVoltsSd, 0.005);

    /// <summary>One leg: what goes out on L1 comes back on N, so Kirchhoff forbids to tell them apart.</summary>
    [Fact]
    public void On_one_leg_the_neutral_is_named_beside_it()
    {
        var joint = Assert.Single(JointsFit.Of(Day(1, Leg.L1, 0.02), Prior).Joints);
        Assert.Equal([Leg.L1, Leg.N], joint.OrElse.Append(joint.Conductor).Order());
        Assert.Equal(0.02, joint.ExcessOhms, 4 * joint.ExcessOhmsSd);
    }

    [Fact]
    public void Two_joints_of_one_cable_are_both_found() => Assert.Equal(
        [Leg.L1, Leg.N],
        JointsFit.Of(Day(2, Leg.L1, 0.02, second: (Leg.N, 0.03)), Prior).Joints.Select(joint => joint.Conductor).Order());

    [Fact]
    public void Without_amps_that_vary_nothing_is_claimed()
    {
        var sums = new CableResistanceSums(2);
        for (var minute = 0; minute < 1440; minute++)
            for (var leg = 0; leg < 2; leg++)
                sums.Add(leg, new(leg == 0 ? 1.0 : 0, 0.2, 60, 0, 118)); // 1 V, by 17 mΩ or by a gain 0.8 % off
        Assert.Empty(JointsFit.Of(sums, Prior).Joints);
    }

    [Fact]
    public void What_is_old_fades()
    {
        var sums = Day(2, Leg.L1, 0.02);
        var before = sums.Count;
        sums.Fade(0.25);
        Assert.Equal(before / 4, sums.Count, 1e-9);
        Assert.Equal(0.02, Assert.Single(JointsFit.Of(sums, Prior).Joints).ExcessOhms, 0.001);
    }

    /// <summary>A day by minutes: z = ε·d + ΔR·j + γ·M, written out for each leg, with noise of 0.05 V.</summary>
    static CableResistanceSums Day(
        int legs, Leg conductor, double ohms, double length = 0.03, double gain = 0.005, (Leg Leg, double Ohms) second = default)
    {
        const double wireOhms = 0.003;
        var random = new Random(42);
        var sums = new CableResistanceSums(legs);
        double Of(Leg leg) => (leg == conductor ? ohms : 0) + (leg == second.Leg ? second.Ohms : 0);
        for (var minute = 0; minute < 1440; minute++)
        {
            var day = 0.5 - 0.5 * Math.Cos(2 * Math.PI * minute / 1440);
            double[] amps = [20 + 60 * day + 10 * random.NextDouble(), 15 + 40 * day * day + 10 * random.NextDouble()];
            for (var leg = 0; leg < legs; leg++)
            {
                // On 120/240 V the other leg's current comes back against this leg's: n = j − j'.
                var back = legs == 1 ? amps[0] : amps[leg] - amps[1 - leg];
                var fileDrop = wireOhms * (amps[leg] + back);
                var noise = 0.05 * (random.NextDouble() + random.NextDouble() + random.NextDouble() + random.NextDouble() - 2) * Math.Sqrt(3);
                var residual = length * fileDrop + Of((Leg)leg) * amps[leg] + Of(Leg.N) * back + (leg == 0 ? gain : -gain) * 118 + noise;
                sums.Add(leg, new(residual, fileDrop, amps[leg], back, 118));
            }
        }
        return sums;
    }
}
