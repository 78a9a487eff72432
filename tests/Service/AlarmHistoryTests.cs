using CsCheck;
using Farberth.Monitoring.Alarms;
using Farberth.Service.Views;

namespace Farberth.Service.Tests;

public class AlarmHistoryTests
{
    [Fact]
    public void Whoever_asks_often_enough_sees_every_transition_once_and_in_order() =>
        Gen.Int[0, 40].Array[1, 60].Sample(batches =>
        {
            var (history, told, all) = (AlarmHistory.Empty, new List<AlarmTransition>(), new List<AlarmTransition>());
            foreach (var size in batches)
            {
                var before = history.Count;
                List<AlarmTransition> batch = [.. Enumerable.Range(0, size).Select(i => Transition(AlarmState.Normal, i))];
                history = history.Add(batch);
                all.AddRange(batch);
                told.AddRange(history.Since(before));
            }
            return told.SequenceEqual(all) && history.Count == all.Count && history.Kept == Math.Min(all.Count, AlarmHistory.Most)
                && history.Last.SequenceEqual(all.TakeLast(AlarmHistory.Most));
        });

    [Fact]
    public void An_alarm_that_gets_worse_is_not_raised_twice()
    {
        var history = AlarmHistory.Empty.Add([Transition(AlarmState.Normal), Transition(AlarmState.Unacknowledged), Transition(AlarmState.ReturnedUnacknowledged)]);

        Assert.Equal(3, history.Count);
        Assert.Equal(2, history.Raised[AlarmKind.Overload]);
    }

    static AlarmTransition Transition(AlarmState from, int second = 0) => new(
        DateTimeOffset.UnixEpoch.AddSeconds(second), from,
        new("Q.Q1.A.overload", AlarmKind.Overload, AlarmState.Unacknowledged, Priority.Medium, DateTimeOffset.UnixEpoch, new("Q"), Audience.Everybody, "", []), "");
}
