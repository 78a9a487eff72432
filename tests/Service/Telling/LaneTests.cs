using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Service.Telling;
using static Farberth.Service.Tests.Telling.Happened;

namespace Farberth.Service.Tests.Telling;

public class LaneTests
{
    static readonly TellingLimits Limits = new() { Messages = 3, Within = TimeSpan.FromMinutes(10), Waiting = 20 };
    static readonly TellingOutcome Delivered = new TellingOutcome.Delivered();

    readonly Lane lane = Make(combines: true);
    DateTimeOffset now = Noon;

    static Lane Make(bool combines) => new(combines, Limits, new Backoff(TimeSpan.FromSeconds(2), TimeSpan.FromMinutes(1)), () => 1);

    [Fact]
    public void What_happened_is_told_in_order_and_each_once()
    {
        Take(Row(0, "a"), Row(1, "b"));

        Assert.Equal(["a"], Send(Delivered));
        Assert.Equal(["b"], Send(Delivered));
        Assert.Empty(Send(Delivered));
        Assert.Equal(0, lane.Count);
    }

    [Fact]
    public void A_hazard_goes_before_what_waits_but_not_before_the_earlier_steps_of_its_own_alarm()
    {
        Take(Row(0, "a"), Row(1, "b"), Row(2, "b", Priority.High), Row(3, "c", Priority.High));

        Assert.Equal(["b@1", "b@2", "c@3"], Enumerable.Range(0, 4).SelectMany(_ => SendKeys(Delivered)));
        now += Limits.Within;
        Assert.Equal(["a@0"], SendKeys(Delivered));
    }

    [Fact]
    public void Beyond_the_limit_messages_are_held_back_and_come_together()
    {
        Take([.. Enumerable.Range(0, 9).Select(second => Row(second, $"a{second}"))]);
        for (var message = 0; message < 3; message++)
            Assert.Single(Send(Delivered));

        Assert.Null(lane.Next(now, out var due));
        Assert.Equal(Noon.AddMinutes(10), due);
        now = due!.Value;
        Assert.Equal(["a3", "a4", "a5", "a6", "a7", "a8"], Send(Delivered));
        Take(Row(700, "z"));
        Assert.Equal(["z"], Send(Delivered));
    }

    [Fact]
    public void A_hazard_is_never_held_back()
    {
        Take([.. Enumerable.Range(0, 5).Select(second => Row(second, $"a{second}"))]);
        for (var message = 0; message < 3; message++)
            Send(Delivered);
        for (var second = 10; second < 20; second++)
        {
            Take(Row(second, $"h{second}", Priority.High));
            Assert.Equal([$"h{second}"], Send(Delivered));
        }
    }

    [Fact]
    public void A_machine_gets_every_event_by_itself_and_at_once()
    {
        var machine = Make(combines: false);
        for (var second = 0; second < 9; second++)
            machine.Take(Row(second, "a"));
        for (var second = 0; second < 9; second++)
            Assert.Equal(TellingState.Delivered, Assert.Single(machine.Done(machine.Next(now, out _)!, Delivered, now)).State);
    }

    [Fact]
    public void Waits_grow_with_each_failure_and_are_short_again_after_a_success()
    {
        Take(Row(0, "a"));
        var waits = new List<double>();
        for (var attempt = 0; attempt < 7; attempt++)
        {
            Send(new TellingOutcome.TryAgain("503"));
            Assert.Null(lane.Next(now, out var due));
            waits.Add((due!.Value - now).TotalSeconds);
            now = due.Value;
        }
        Assert.Equal([2, 4, 8, 16, 32, 60, 60], waits);

        Send(Delivered);
        Take(Row(300, "b"));
        Send(new TellingOutcome.TryAgain("503"));
        lane.Next(now, out var again);
        Assert.Equal(TimeSpan.FromSeconds(2), again - now);
    }

    [Fact]
    public void The_wait_that_was_asked_for_is_kept_up_to_a_bound_and_a_hazard_keeps_it_too()
    {
        Take(Row(0, "a"));
        Send(new TellingOutcome.TryAgain("429", TimeSpan.FromSeconds(90)));
        Take(Row(1, "h", Priority.High));
        Assert.Null(lane.Next(now, out var due));
        Assert.Equal(now.AddSeconds(90), due);

        now = due!.Value;
        Send(new TellingOutcome.TryAgain("429", TimeSpan.FromDays(3)));
        Assert.Null(lane.Next(now, out due));
        Assert.Equal(now + Limits.LongestAskedWait, due);
    }

    [Fact]
    public void A_hazard_does_not_wait_for_the_next_attempt()
    {
        Take(Row(0, "a"));
        for (var attempt = 0; attempt < 6; attempt++)
        {
            Send(new TellingOutcome.TryAgain("503"));
            lane.Next(now, out var due);
            now = due!.Value;
        }
        Send(new TellingOutcome.TryAgain("503"));
        Take(Row(1, "h", Priority.High));

        Assert.Equal(["h"], Send(Delivered));
    }

    [Fact]
    public void One_that_always_fails_does_not_keep_the_others_back()
    {
        Take(Row(0, "bad", Priority.High), Row(1, "bad", Priority.High), Row(2, "b", Priority.High));
        Send(new TellingOutcome.TryAgain("500"));
        now += TimeSpan.FromMinutes(1);

        Assert.Equal(["b@2"], SendKeys(Delivered));
        Assert.Equal(["bad@0"], SendKeys(Delivered));
    }

    [Fact]
    public void Somebody_who_is_gone_is_given_up_with_all_that_waits_for_him()
    {
        Take(Row(0, "a"), Row(1, "b"));
        var ended = lane.Done(lane.Next(now, out _)!, new TellingOutcome.Never("410", IsGone: true), now);

        Assert.All(ended, row => Assert.Equal((TellingState.GivenUp, "410"), (row.State, row.Why)));
        Assert.Equal(2, ended.Count);
        Assert.Equal(TellingState.GivenUp, Assert.Single(lane.Take(Row(2, "c"))).State);
    }

    [Fact]
    public void One_notice_that_is_not_taken_is_given_up_and_the_next_is_told()
    {
        Take(Row(0, "a"), Row(1, "b"));
        Assert.Equal(TellingState.GivenUp, Assert.Single(lane.Done(lane.Next(now, out _)!, new TellingOutcome.Never("400"), now)).State);
        Assert.Equal(["b"], Send(Delivered));
    }

    [Fact]
    public void What_is_a_day_old_is_not_told_any_more_but_it_is_said_that_it_was_not()
    {
        Take(Row(0, "a"), Row(3600, "b"));
        now = Noon.AddHours(24).AddMinutes(1);

        Assert.Equal("a", Assert.Single(lane.Expire(now)).Event.Name);
        var sending = lane.Next(now, out _)!;
        Assert.Equal((1, "b"), (sending.LeftOut, Assert.Single(sending.Rows).Event.Name));
    }

    [Fact]
    public void What_waits_is_bounded_and_hazards_are_kept()
    {
        Take(Row(0, "h", Priority.High));
        var givenUp = Enumerable.Range(1, 30).SelectMany(second => lane.Take(Row(second, $"a{second}"))).Select(row => row.Event.Name).ToList();

        Assert.Equal(Enumerable.Range(1, 11).Select(second => $"a{second}"), givenUp);
        Assert.Equal(20, lane.Count);
        Assert.Equal(["h"], Send(Delivered));
        Assert.Equal(11, lane.Next(now, out _)!.LeftOut);
    }

    void Take(params OutboxRow[] rows)
    {
        foreach (var row in rows)
            Assert.Empty(lane.Take(row));
    }

    List<string> Send(TellingOutcome outcome) => [.. SendRows(outcome).Select(row => row.Event.Name)];

    List<string> SendKeys(TellingOutcome outcome) => [.. SendRows(outcome).Select(row => $"{row.Event.Name}@{(row.Event.At - Noon).TotalSeconds}")];

    IReadOnlyList<OutboxRow> SendRows(TellingOutcome outcome)
    {
        if (lane.Next(now, out _) is not { } sending)
            return [];
        var rows = lane.Done(sending, outcome, now);
        Assert.Equal(sending.Rows.Select(row => row.Key), rows.Select(row => row.Key));
        Assert.All(rows, row => Assert.InRange(row.Attempts, 1, 100));
        return rows;
    }
}
