using Farberth.Grid.Estimation;

namespace Farberth.Grid.Tests.Estimation;

public class JointsFitTests
{
    const int L1 = 0;
    const int L2 = 1;
    const int N = 2;

    static readonly JointsPrior Prior = new(
        LengthShareSd: 0.04, OrdinaryOhms: 0.0005, OrdinaryOhmsSd: 0.00015, ConductorShareSd: 0.03, BadOhmsSd: 0.5, GainShareSd: 0.01,
        NoiseVolts: 0.05, NoiseLines: 48, WarmthShareSd: 0.03, MeansAlike: 3, HabitMeans: 144, Threshold: 4);

    /// <summary>In the evening the fourth pedestal draws from L2 three times what is guessed from the others.</summary>
    static readonly JointsDay More = new() { Silent = 3, SilentShare = (ten, leg) => leg == L2 && ten is > 66 and < 126 ? 3 : 1 };

    [Theory]
    [InlineData(1, L1)]
    [InlineData(2, L2)]
    [InlineData(3, N)]
    [InlineData(4, L1)]
    public void A_joint_is_found_in_its_conductor_with_its_ohms(int cable, int conductor)
    {
        var joint = Assert.Single(new JointsDay { Joints = [(cable, conductor, 0.020)] }.Solved(Prior).Joints);
        Assert.Equal(new CableConductor(cable, conductor), joint.At);
        Assert.Equal(0.020, joint.Ohms, 3 * joint.OhmsSd);
        Assert.InRange(joint.OhmsSd, 0.0001, 0.002);
        Assert.Null(joint.From);
        Assert.Empty(joint.Rivals);
    }

    [Fact]
    public void Wrong_lengths_and_wrong_gains_are_no_joint() => Assert.Empty(new JointsDay().Solved(Prior).Joints);

    [Fact]
    public void A_silent_pedestal_that_draws_otherwise_than_was_guessed_is_no_joint() => Assert.Empty(More.Solved(Prior).Joints);

    /// <summary>
    /// The silent amps are fitted to the lines that they pass, and what is left over in those is less than their noise: of two meters' ±0.01 V,
    /// evenly spread, √2·0.01/√3 V. It may be taken for more, since neighbours share a meter's noise, and not for less.
    /// </summary>
    [Fact]
    public void A_lines_noise_is_not_less_where_a_silent_pedestals_amps_were_fitted_to_it()
    {
        var fit = (More with { Days = 3 }).Solved(Prior with { NoiseVolts = 0.008, NoiseLines = 1, WarmthShareSd = 0 });
        var learned = fit.Memory().NoiseVolts;
        Assert.All([1, 2, 4], meter => Assert.InRange(learned[meter], 0.97 * 0.00816, 1.35 * 0.00816));
    }

    /// <summary>Its amps move the volts of both legs through the neutral, in proportion to the amps of those who are heard.</summary>
    [Fact]
    public void A_guess_that_is_believed_names_joints_that_are_not_there() =>
        Assert.NotEmpty(More.Solved(Prior with { HabitMeans = 1e-6 }).Joints);

    [Theory]
    [InlineData(1, N)]
    [InlineData(2, N)]
    [InlineData(2, L1)]
    public void A_joint_that_a_silent_pedestal_draws_through_has_its_ohms(int cable, int conductor)
    {
        var joint = Assert.Single((More with { Joints = [(cable, conductor, 0.020)] }).Solved(Prior).Joints);
        Assert.Equal(new CableConductor(cable, conductor), joint.At);
        Assert.Equal(0.020, joint.Ohms, 3 * joint.OhmsSd);
        Assert.InRange(joint.Ohms, 0.018, 0.022);
    }

    [Fact]
    public void The_cables_on_both_sides_of_a_silent_meter_cannot_be_told_apart()
    {
        var day = new JointsDay { Silent = 3, SilentDraws = false, Joints = [(3, L1, 0.020)] };
        var joint = Assert.Single(day.Solved(Prior).Joints);
        Assert.Equal([3, 4], joint.Rivals.Append(joint.At).Select(at => at.Cable).Order());
        Assert.All(joint.Rivals, rival => Assert.Equal(L1, rival.Conductor));
    }

    /// <summary>One leg: what goes out on L1 comes back on N, so Kirchhoff forbids to tell them apart.</summary>
    [Fact]
    public void On_one_leg_the_neutral_is_named_beside_it()
    {
        var joint = Assert.Single(new JointsDay(Legs: 1) { Joints = [(2, L1, 0.020)] }.Solved(Prior).Joints);
        Assert.Equal([new(2, L1), new CableConductor(2, 1)], joint.Rivals.Append(joint.At).OrderBy(at => at.Conductor));
        Assert.Equal(0.020, joint.Ohms, 3 * joint.OhmsSd);
    }

    [Fact]
    public void Joints_in_several_cables_are_all_found() => Assert.Equal(
        [new(1, L1), new(1, N), new CableConductor(3, L2)],
        new JointsDay { Joints = [(1, L1, 0.020), (3, L2, 0.010), (1, N, 0.030)] }.Solved(Prior).Joints
            .Select(joint => joint.At).OrderBy(at => at.Cable).ThenBy(at => at.Conductor));

    [Fact]
    public void A_part_of_a_dock_is_learned_alone() => Assert.Equal(
        new(4, L2), Assert.Single(new JointsDay { Joints = [(4, L2, 0.020)] }.Solved(Prior, first: 3, cables: 2).Joints).At);

    /// <summary>Nine amps through 20 mΩ are as good as a gain that is off.</summary>
    [Fact]
    public void Without_amps_that_vary_nothing_is_claimed() =>
        Assert.Empty(new JointsDay { Varies = false, Joints = [(4, L1, 0.020)] }.Solved(Prior).Joints);

    [Fact]
    public void A_joint_that_began_today_has_its_hour_and_all_its_ohms()
    {
        var joint = Assert.Single(new JointsDay { Days = 2, BeginAfter = 36, Joints = [(2, L1, 0.020)] }.Solved(Prior).Joints);
        Assert.InRange(joint.From!.Value, JointsDay.At(35), JointsDay.At(37));
        Assert.Equal(0.020, joint.Ohms, 3 * joint.OhmsSd);
    }
}
