using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;

namespace Farberth.HotAfternoon.Tests;

/// <summary>A bad joint of the simulator, whose lengths, temperatures, gains and ordinary joints nobody tells the service.</summary>
public class JointsSeen
{
    /// <summary>The cable carries more than 60 A in the afternoon. NBSIR 76-1011: 35 W in a loose connection glow (confirmed).</summary>
    [Theory]
    [InlineData(104, "F1", Leg.L2, "H13", "H8")]
    [InlineData(101, "H9", Leg.L2, "H6", "F3")]
    public void A_joint_of_20_milliohms_is_named_within_a_day_with_its_ohms(
        long seed, string cable, Leg conductor, params string[] dead)
    {
        var scenario = TwoDays.Scenario(seed, dead, TwoDays.Joint(cable, conductor, 0.020));
        var firstDay = scenario with { End = scenario.Start.AddDays(1) };
        var raised = new List<Alarm>();
        var largestAmps = 0.0;
        foreach (var (step, truth) in TwoDays.Run(firstDay))
        {
            raised.AddRange(step.Standing.Where(alarm => alarm.Kind == AlarmKind.ResistiveJoint));
            largestAmps = Math.Max(largestAmps, truth.Docks["H"].CableAmps(cable, conductor));
            if (truth.Time + scenario.Step < new DateTimeOffset(2027, 7, 18, 4, 0, 0, TimeSpan.Zero))
                continue;
            var joint = Assert.Single(step.Picture.Learned.Joints, joint => joint.Outer == cable);
            Assert.Equal(conductor, joint.Conductor);
            Assert.InRange(1000 * joint.ExcessOhms, 16, 24);
            Assert.InRange(Math.Abs(0.020 - joint.ExcessOhms), 0, 3 * joint.ExcessOhmsSd);
            Assert.True(joint.IsOlder);
            Assert.Equal([cable], joint.Cables);
            Assert.InRange(joint.WattsWorst, 0.020 * 60 * 60 / 2, double.MaxValue);
        }
        Assert.True(largestAmps > 60);
        Assert.Equal([$"H.{cable}.resistive-joint"], raised.Select(alarm => alarm.Id).Distinct());
        Assert.All(raised, alarm => Assert.Equal(conductor.ToString(), (string)alarm.Evidence["conductor"]!));
    }

    [Fact]
    public void A_dock_with_good_joints_and_two_dead_meters_raises_none() => Assert.Empty(Raised(TwoDays.Scenario(6, ["H3", "H7"])));

    /// <summary>The simulator's meters draw their gains first, leg by leg, with the spread that the recording asks for: 0.5 %.</summary>
    internal static List<Alarm> Raised(Scenario scenario) =>
    [
        .. from run in TwoDays.Run(scenario)
           from transition in run.Step.Transitions
           where transition.Alarm.Kind == AlarmKind.ResistiveJoint
           select transition.Alarm,
    ];
}
