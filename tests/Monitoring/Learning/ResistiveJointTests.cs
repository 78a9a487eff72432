using System.Globalization;
using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rules;
using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Tests.Learning;

/// <summary>What is said of a joint once it is learned.</summary>
public class ResistiveJointTests
{
    static readonly CableJoint Joint = new(
        "B1", "B2", ["B2"], Leg.L1, ExcessOhms: 0.020, ExcessOhmsSd: 0.002, WattsNow: 8, WattsWorst: 25,
        TestDock.Start, OrElse: []) { WattsNowSd = 0.8, WattsWorstSd = 2.5, IsOlder = true };

    readonly DockPicture picture = new TestDock().Run(TimeSpan.FromSeconds(1)).Last.Picture;

    [Fact]
    public void Every_cable_has_a_finding_and_only_the_bad_one_is_past()
    {
        var findings = Judge(Joint);
        Assert.Equal(["B1", "B2", "B3"], findings.Select(finding => finding.Place.Cable));
        Assert.Equal("B.B2.resistive-joint", Assert.Single(findings, finding => finding.IsPast).Place.AlarmId(AlarmKind.ResistiveJoint));
    }

    [Theory]
    [InlineData(9.9, null)]
    [InlineData(10.1, Priority.Medium)]
    [InlineData(30.1, Priority.High)]
    public void It_goes_by_the_watts_of_the_worst_hour(double watts, Priority? expected) => Assert.Equal(
        expected, Judge(Joint with { WattsWorst = watts }).SingleOrDefault(finding => finding.IsPast)?.Priority);

    [Fact]
    public void The_evidence_has_each_number_with_its_deviation()
    {
        var told = Judge(Joint).Single(finding => finding.IsPast).Describe();
        var (message, evidence) = (told.Message, told.Evidence);
        Assert.Equal(["B1", "B2"], ((JsonArray)evidence["cable"]!).Select(name => (string)name!));
        Assert.Equal("L1", (string)evidence["conductor"]!);
        double[] numbers = [.. new[] { "milliohms", "milliohms-sd", "watts", "watts-sd", "worst-hour-watts", "worst-hour-watts-sd" }.Select(name => (double)evidence[name]!)];
        Assert.Equal([20, 2, 8, 0.8, 25, 2.5], numbers);
        Assert.Equal(TestDock.Start, DateTimeOffset.Parse((string)evidence["since"]!, CultureInfo.InvariantCulture));
        Assert.True((bool)evidence["or-before"]!);
        Assert.Contains("from B1 to B2", message);
        Assert.Contains("licensed electrician", message);
        Assert.Contains("tested dead", message);
    }

    [Fact]
    public void What_cannot_be_told_apart_is_said()
    {
        var run = Joint with { Inner = "B1", Outer = "B3", Cables = ["B3", "B2"], OrElse = [Leg.N] };
        var told = Judge(run).Single(finding => finding.IsPast).Describe();
        var (message, evidence) = (told.Message, told.Evidence);
        Assert.Contains("one of the cables to B2, B3, which these meters cannot tell apart", message);
        Assert.Contains("another conductor instead, which these meters cannot tell apart: N", message);
        Assert.Equal("N", (string)evidence["or"]![0]!);
        Assert.Equal(["B2", "B3"], ((JsonArray)evidence["cables"]!).Select(name => (string)name!));
    }

    List<Finding> Judge(CableJoint joint) => [.. AlarmRules.All.Single(rule => rule.Kind == AlarmKind.ResistiveJoint)
        .Judge(picture with
        {
            Learned = new([joint], new Dictionary<OutletKey, LearnedResponse>()),
            Recalled = RecalledAlarms.Everywhere,
        })];
}
