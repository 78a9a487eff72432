using System.Text.Json.Nodes;

namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// A failing neutral from the simulator's own physics to the alarm, with hidden cable lengths, joints, temperatures and meter errors that
/// the monitor is not told about. Meters send every 5 s at Fair Reach, every 10 s at Four Posts.
/// </summary>
public class OpenNeutralSeen
{
    /// <summary>A message is under way for less than 2 s, unless it is lost or held up.</summary>
    static readonly TimeSpan UnderWay = TimeSpan.FromSeconds(2);

    [Theory]
    [InlineData("R1", 3)]
    [InlineData("R6", 4)]
    [InlineData("F2", 3)]
    [InlineData("F4", 5)]
    public void An_open_neutral_is_raised_at_once_and_located_within_a_round_of_readings_or_two(string cable, long seed)
    {
        var run = new NeutralRun(NeutralRun.FairReach, seed, cable);
        Assert.InRange(run.Raised[0].At, run.FailsAt, run.FailsAt + TimeSpan.FromSeconds(5) + UnderWay);
        Assert.Equal(cable, run.Cables.Last());
        Assert.True(run.Raised[^1].At < run.FailsAt + TimeSpan.FromSeconds(15));
        Assert.True((bool)run.Raised[^1].Alarm.Evidence["open"]! || cable == "R1");
        Assert.Subset(run.WayTo(cable).ToHashSet(), run.Cables.ToHashSet());
    }

    [Theory]
    [InlineData("R1", "R2", 3)]
    [InlineData("R3", "R8", 4)]
    [InlineData("F1", "F4", 4)]
    [InlineData("F3", "F4", 5)]
    public void Half_an_ohm_too_much_is_raised_within_two_readings_of_six_volts(string cable, string beyond, long seed)
    {
        var (run, healthy) = (new NeutralRun(NeutralRun.FairReach, seed, cable, 0.5), new NeutralRun(NeutralRun.FairReach, seed));
        Assert.InRange(run.Raised[0].At, run.FailsAt, run.MovedAt(beyond, healthy) + TimeSpan.FromSeconds(10) + UnderWay);
        Assert.Equal(cable, run.Cables.Last());
        Assert.Subset(run.WayTo(cable).ToHashSet(), run.Cables.ToHashSet());
        var evidence = run.Raised[^1].Alarm.Evidence;
        Assert.Equal(500, (double)evidence["milliohms"]!, 3 * (double)evidence["milliohms-sd"]!);
    }

    /// <summary>The dead meter's pedestal R4 cannot be told from R5 beyond it: the inner cable is named, so that nobody is left out.</summary>
    [Fact]
    public void Of_cables_that_cannot_be_told_apart_the_innermost_is_named() =>
        Assert.Equal("R4", new NeutralRun(NeutralRun.FairReach, 3, "R5").Cables.Last());

    [Fact]
    public void On_three_legs_too()
    {
        var run = new NeutralRun(NeutralRun.FourPosts, 7, "Q2");
        Assert.InRange(run.Raised[0].At, run.FailsAt, run.FailsAt + TimeSpan.FromSeconds(10) + UnderWay);
        Assert.Equal("Q2", run.Cables.Last());
    }

    /// <summary>Legs up to 24 V apart, kettles that come and go, a dead meter: all of that is the dock's own drop.</summary>
    [Fact]
    public void Forty_recordings_without_a_fault_raise_none()
    {
        var differences = new double[40];
        Parallel.For(0, differences.Length, seed =>
        {
            var run = new NeutralRun(NeutralRun.FairReach, seed + 1);
            Assert.Empty(run.Raised);
            differences[seed] = run.Truths.Max(truth => truth.Volts("F4", Grid.Network.Leg.L2) - truth.Volts("F4", Grid.Network.Leg.L1));
        });
        Assert.All(differences, volts => Assert.True(volts > 15, "the recording is not unbalanced"));
    }

    [Fact]
    public void Nor_do_three_legs_without_a_fault() => Assert.All(
        Enumerable.Range(1, 5), seed => Assert.Empty(new NeutralRun(NeutralRun.FourPosts, seed).Raised));

    [Fact]
    public void A_boats_leakage_is_in_its_pedestals_readings_and_in_no_others()
    {
        var simulation = new Simulation(Given.Scenario(NeutralRun.FairReach.Scenario), Given.Site(NeutralRun.FairReach.Site));
        var readings = simulation.Run().Take(200).ToList().Ending("/reading");
        var leaking = readings.Where(message => JsonNode.Parse(message.Message.Payload.Span)!["outlets"]!["A"]!["leakage-ma"] is { } leakage
            && (double)leakage == 4).ToList();
        Assert.NotEmpty(leaking);
        Assert.Equal(readings.Ending("R1/reading"), leaking);
    }

    [Fact]
    public void A_scenario_says_open_or_how_much_and_of_which_cable()
    {
        var text = Given.FourPostsScenario().Replace(
            "  joints:", "  neutral-faults: [{ cable: Q9, open: yes, resistance: 1 ohm }, { cable: Q2 }]\n  joints:", StringComparison.Ordinal);
        Assert.Equal(2, Scenario.Read(text).Mistakes.Count);
        var named = Scenario.Read(text.Replace(", resistance: 1 ohm }, { cable: Q2 }", " }", StringComparison.Ordinal)).Scenario!;
        Assert.Contains("no cable to 'Q9'", Assert.Single(Simulation.Check(named, Given.Site(NeutralRun.FourPosts.Site))).Message);
    }
}
