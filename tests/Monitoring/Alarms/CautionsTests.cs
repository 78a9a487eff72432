using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>Wherever a hazard is shown, the usual cautions stand beside it.</summary>
public class CautionsTests
{
    [Theory]
    [InlineData(AlarmKind.OpenNeutral)]
    [InlineData(AlarmKind.Leakage)]
    [InlineData(AlarmKind.ResistiveJoint)]
    [InlineData(AlarmKind.SupplyLost)]
    [InlineData(AlarmKind.Overload)]
    public void The_message_of_a_hazard_carries_them(AlarmKind kind)
    {
        var json = System.Text.Encoding.UTF8.GetString(AlarmJson.Of(new Alarm(
            "B.x", kind, AlarmState.Unacknowledged, Priority.High, TestDock.Start, new("B"), Audience.Everybody, "", [])));
        Assert.Contains("Nobody swims at a powered dock", json);
        Assert.Contains("no energised parts", json);
        Assert.Contains("Local codes and licensed people first", json);
    }

    [Fact]
    public void Only_kinds_that_tell_of_no_hazard_go_without() => Assert.Equal(
        [AlarmKind.NoDraw, AlarmKind.LegImbalance, AlarmKind.MeterDoubtful],
        Enum.GetValues<AlarmKind>().Where(kind => Cautions.Of(kind) == null));
}
