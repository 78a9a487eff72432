using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>
/// The transitions of ISA-18.2 / IEC 62682, as listed at pyautomation.readthedocs.io (a public description of the
/// standard's diagram; the standard itself was not at hand).
/// </summary>
public class AlarmLifecycleTests
{
    [Theory]
    [InlineData(AlarmState.Normal, AlarmEvent.Raise, AlarmState.Unacknowledged)]
    [InlineData(AlarmState.Unacknowledged, AlarmEvent.Acknowledge, AlarmState.Acknowledged)]
    [InlineData(AlarmState.Unacknowledged, AlarmEvent.Return, AlarmState.ReturnedUnacknowledged)]
    [InlineData(AlarmState.Acknowledged, AlarmEvent.Return, AlarmState.Normal)]
    [InlineData(AlarmState.ReturnedUnacknowledged, AlarmEvent.Acknowledge, AlarmState.Normal)]
    [InlineData(AlarmState.ReturnedUnacknowledged, AlarmEvent.Raise, AlarmState.Unacknowledged)]
    public void An_alarm_goes_from_normal_and_back_by_the_diagram(AlarmState from, AlarmEvent happened, AlarmState to) =>
        Assert.Equal(to, AlarmLifecycle.Next(from, happened));

    [Theory]
    [InlineData(AlarmEvent.Shelve, AlarmEvent.Unshelve, AlarmState.Shelved)]
    [InlineData(AlarmEvent.Suppress, AlarmEvent.Unsuppress, AlarmState.Suppressed)]
    [InlineData(AlarmEvent.RemoveFromService, AlarmEvent.ReturnToService, AlarmState.OutOfService)]
    public void It_can_be_put_aside_from_normal_unacknowledged_and_acknowledged_only(AlarmEvent aside, AlarmEvent back, AlarmState state)
    {
        foreach (var from in new[] { AlarmState.Normal, AlarmState.Unacknowledged, AlarmState.Acknowledged })
            Assert.Equal(state, AlarmLifecycle.Next(from, aside));
        Assert.Null(AlarmLifecycle.Next(AlarmState.ReturnedUnacknowledged, aside));
        Assert.Equal(AlarmState.Normal, AlarmLifecycle.Next(state, back));
        Assert.All(Enum.GetValues<AlarmEvent>().Where(e => e != back), other => Assert.Null(AlarmLifecycle.Next(state, other)));
    }

    [Fact]
    public void Nothing_else_moves_it()
    {
        var moves = Enum.GetValues<AlarmState>().SelectMany(_ => Enum.GetValues<AlarmEvent>(), AlarmLifecycle.Next).Count(next => next != null);
        Assert.Equal(6 + 9 + 3, moves);
    }
}
