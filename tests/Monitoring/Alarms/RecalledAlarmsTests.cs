using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rules;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>A dock where B3 is overloaded and sags, B1 has fallen silent and B2 reads what it cannot have.</summary>
public class RecalledAlarmsTests
{
    static readonly DockPicture Picture = Sagging();

    public static TheoryData<AlarmKind> Kinds => [.. AlarmRules.All.Select(rule => rule.Kind)];

    /// <summary>Where nothing is remembered a rule may leave out what is good, and nothing else.</summary>
    [Theory]
    [MemberData(nameof(Kinds))]
    public void What_is_left_out_is_good(AlarmKind kind)
    {
        var made = Judge(kind, new([])).Select(finding => finding.Place).ToHashSet();
        Assert.All(Judge(kind, RecalledAlarms.Everywhere).Where(finding => !made.Contains(finding.Place)), finding => Assert.False(finding.IsPast || finding.IsPending));
    }

    /// <summary>Else an alarm would stand for ever.</summary>
    [Theory]
    [MemberData(nameof(Kinds))]
    public void Where_an_alarm_is_remembered_the_good_is_told_too(AlarmKind kind)
    {
        foreach (var place in Judge(kind, RecalledAlarms.Everywhere).Select(finding => finding.Place))
            Assert.Contains(Judge(kind, new([(kind, place.Pedestal ?? place.Cable ?? place.Dock)])), finding => finding.Place == place);
    }

    [Fact]
    public void Of_a_calm_dock_few_findings_are_made()
    {
        var picture = new TestDock().Run(TimeSpan.FromSeconds(60)).Last.Picture;
        int Made(RecalledAlarms recalled) => AlarmRules.All.Sum(rule => rule.Judge(picture with { Recalled = recalled }).Count());
        Assert.True(3 * Made(new([])) < Made(RecalledAlarms.Everywhere));
    }

    static List<Finding> Judge(AlarmKind kind, RecalledAlarms recalled) =>
        [.. AlarmRules.All.Single(rule => rule.Kind == kind).Judge(Picture with { Recalled = recalled })];

    static DockPicture Sagging()
    {
        var dock = new TestDock().Run(TimeSpan.FromSeconds(30)).Say("B3", 101, 119, ("A", Leg.L1, 29)).Say("B2", 133, 119);
        dock.Says.Remove("B1");
        return dock.Run(TimeSpan.FromMinutes(6)).Last.Picture;
    }
}
