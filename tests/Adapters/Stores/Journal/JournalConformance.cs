using System.Text;
using CsCheck;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Wire;
using static Farberth.Adapters.Tests.Stores.Journal.Given;

namespace Farberth.Adapters.Tests.Stores.Journal;

/// <summary>What every journal must do; each implementation passes these.</summary>
public abstract class JournalConformance : IAsyncLifetime
{
    IJournal journal = null!;

    /// <summary>A journal over the test's own store; opened again it is the same store.</summary>
    protected abstract Task<IJournal> Open(string site = "eastharbour");

    protected static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public virtual async ValueTask InitializeAsync() => journal = await Open();

    public virtual ValueTask DisposeAsync()
    {
        journal?.Dispose();
        GC.SuppressFinalize(this);
        return ValueTask.CompletedTask;
    }

    async Task Reopen()
    {
        journal.Dispose();
        journal = await Open();
    }

    [Fact]
    public async Task What_was_written_is_there_after_opening_it_again()
    {
        var raised = Step(0, Overload());
        journal.Write(Batch(Entry(raised, "Ana"), Entry(Asked(1), "Bo")));
        await Reopen();

        Assert.Equal(["C-23", "C.C12.A.overload"], journal.History(new()).Events.Select(happened => happened.Name));
        Assert.Equal([("Ana", raised.Key), ("Bo", Asked(1).Key)], journal.Waiting(10).Select(row => (row.Contact, row.Event.Key)));
    }

    [Fact]
    public void A_transition_comes_back_as_it_was()
    {
        var alarm = Overload(AlarmState.Shelved) with
        {
            SetAside = new("Ana", Noon.AddSeconds(3), Noon.AddHours(1), "the plug is being changed"), FirstUp = "C.C9.A.overload",
            HeldBackFrom = Audience.Electrician, Chattering = 4, SuppressedBy = "C.C1.cable-overload",
        };
        journal.Write(Batch(Entry(Step(3, alarm, AlarmState.Acknowledged, "shelved by Ana"))));

        var read = Assert.Single(journal.Standing());
        Assert.Equal(Encoding.UTF8.GetString(AlarmJson.Of(Step(3, alarm, reason: "shelved by Ana").Transition)), Encoding.UTF8.GetString(AlarmJson.Of(read)));
        Assert.Equal(
            (AlarmState.Acknowledged, alarm.SetAside, alarm.FirstUp, alarm.HeldBackFrom, alarm.Chattering, alarm.SuppressedBy, alarm.For, alarm.Place),
            (read.From, read.Alarm.SetAside, read.Alarm.FirstUp, read.Alarm.HeldBackFrom, read.Alarm.Chattering, read.Alarm.SuppressedBy, read.Alarm.For, read.Alarm.Place));
    }

    [Fact]
    public void Every_state_can_be_the_one_before()
    {
        var states = Enum.GetValues<AlarmState>();
        journal.Write(Batch([.. states.Select((from, second) => Entry(Step(second, Overload(), from)))]));
        Assert.Equal(states.Reverse(), journal.History(new()).Events.Cast<AlarmStepped>().Select(stepped => stepped.Transition.From));
    }

    [Fact]
    public void A_transition_seen_again_is_ignored_and_makes_no_outbox_row()
    {
        var raised = Step(0, Overload());
        Assert.Empty(journal.Write(Batch(Entry(raised, "Ana"))).AlreadyThere);
        journal.Write(new() { Told = [journal.Waiting(1)[0] with { State = TellingState.Delivered, Attempts = 1 }] });

        var again = journal.Write(Batch(Entry(Step(0, Overload()), "Ana", "Bo"), Entry(Step(1, Overload(AlarmState.Acknowledged), AlarmState.Unacknowledged), "Bo")));
        Assert.Equal([raised.Key], again.AlreadyThere);
        Assert.Equal(2, journal.History(new()).Events.Count);
        Assert.Equal([("Bo", "acknowledged")], journal.Waiting(10).Select(row => (row.Contact, row.Event.State)));
    }

    [Fact]
    public void The_same_step_twice_within_a_tick_is_two_steps()
    {
        var shelved = Step(5, Overload(AlarmState.Shelved));
        journal.Write(Batch(Entry(shelved), Entry(Step(5, Overload(AlarmState.Normal), AlarmState.Shelved)), Entry(shelved with { Nth = 1 })));

        Assert.Equal(3, journal.History(new()).Events.Count);
        Assert.Equal(AlarmState.Shelved, Assert.Single(journal.Standing()).Alarm.State);
    }

    [Fact]
    public void Only_the_latest_step_of_an_alarm_stands_and_one_that_is_normal_does_not()
    {
        journal.Write(Batch(
            Entry(Step(0, Overload())), Entry(Step(0, Overload(pedestal: "C13"))), Entry(Step(9, Overload(AlarmState.Acknowledged), AlarmState.Unacknowledged)),
            Entry(Step(20, Overload(AlarmState.Acknowledged, "C13"), AlarmState.Unacknowledged)), Entry(Step(30, Overload(AlarmState.Normal, "C13"), AlarmState.Acknowledged))));

        var standing = Assert.Single(journal.Standing());
        Assert.Equal(("C.C12.A.overload", AlarmState.Acknowledged, Noon.AddSeconds(9)), (standing.Alarm.Id, standing.Alarm.State, standing.At));
    }

    [Fact]
    public void What_was_in_force_before_a_moment_is_the_last_step_of_each_alarm_and_what_was_last_asked_of_each_slip()
    {
        journal.Write(Batch(
            Entry(Step(0, Overload())), Entry(Asked(1)), Entry(Step(9, Overload(AlarmState.Acknowledged), AlarmState.Unacknowledged)),
            Entry(Step(20, Overload(AlarmState.Normal), AlarmState.Acknowledged)), Entry(Asked(30, takenBack: "the cable carries less"))));

        Assert.Empty(InForce(0));
        Assert.Equal(["unacknowledged"], InForce(1));
        Assert.Equal(["shed", "acknowledged"], InForce(20));
        Assert.Equal(["shed"], InForce(30));
        Assert.Empty(InForce(31));
    }

    [Fact]
    public void History_is_that_of_an_alarm_a_slip_a_dock_or_a_time()
    {
        journal.Write(Batch(
            Entry(Step(0, Overload())), Entry(Asked(1)), Entry(Step(2, Overload(pedestal: "C13", slip: "C-24"))), Entry(Step(3, Overload(dock: "D", slip: null))),
            Entry(Asked(4, takenBack: "the cable carries less"))));

        Assert.Equal(["unacknowledged"], States(new() { AlarmId = "C.C12.A.overload" }));
        Assert.Equal(["taken-back", "shed", "unacknowledged"], States(new() { Slip = "C-23" }));
        Assert.Equal(["taken-back", "unacknowledged", "shed", "unacknowledged"], States(new() { Dock = "C" }));
        Assert.Equal(["unacknowledged", "shed"], States(new() { From = Noon.AddSeconds(1), To = Noon.AddSeconds(3) }));
        Assert.Empty(States(new() { Slip = "C-23' OR '1'='1" }));
        Assert.Equal("the cable carries less", Assert.IsType<AdviceChanged>(journal.History(new()).Events[0]).Change.TakenBack);
    }

    [Fact]
    public void History_comes_in_pages_that_miss_nothing()
    {
        journal.Write(Batch([.. Enumerable.Range(0, 25).Select(second => Entry(Asked(second)))]));

        List<JournalEvent> all = [];
        JournalPage page;
        long? before = null;
        do
        {
            page = journal.History(new() { Limit = 10, Before = before });
            Assert.InRange(page.Events.Count, 1, 10);
            all.AddRange(page.Events);
            before = page.Next;
        }
        while (before != null);
        Assert.Equal(Enumerable.Range(0, 25).Reverse().Select(second => Noon.AddSeconds(second)), all.Select(happened => happened.At));
    }

    [Fact]
    public void A_row_remembers_how_its_attempts_went_until_it_is_done()
    {
        journal.Write(Batch(Entry(Step(0, Overload()), "Ana", "Bo")));
        var rows = journal.Waiting(10);
        journal.Write(new()
        {
            Told =
            [
                rows[0] with { Attempts = 3, NextAttempt = Noon.AddMinutes(4), Why = "the server says 503" },
                rows[1] with { State = TellingState.GivenUp, Attempts = 1, Why = "gone" },
            ],
        });

        var row = Assert.Single(journal.Waiting(10));
        Assert.Equal(("Ana", 3, Noon.AddMinutes(4), "the server says 503"), (row.Contact, row.Attempts, row.NextAttempt, row.Why));
    }

    [Fact]
    public void Waiting_rows_are_bounded_and_the_oldest_come_first()
    {
        journal.Write(Batch([.. Enumerable.Range(0, 9).Select(second => Entry(Asked(second), "Bo"))]));

        Assert.Equal([0, 1, 2, 3], journal.Waiting(4).Select(row => (int)(row.Event.At - Noon).TotalSeconds));
    }

    [Fact]
    public void A_batch_with_something_the_store_does_not_take_changes_nothing()
    {
        var impossible = Entry(Step(1, Overload(pedestal: "C13"))) with { Tell = [new(Step(1, Overload(pedestal: "C13")), null!, Channel.Mail)] };

        var refused = Assert.Throws<JournalException>(() => journal.Write(Batch(Entry(Step(0, Overload()), "Ana"), impossible)));
        Assert.Equal(JournalFailure.Refused, refused.Failure);
        Assert.Empty(journal.History(new()).Events);
        Assert.Empty(journal.Waiting(10));
    }

    [Fact]
    public void What_people_write_cannot_keep_an_alarm_out()
    {
        var odd = "half \uD83D of a pair, a nul \0, a quote ' and a \u2028 line";
        journal.Write(Batch(Entry(Step(0, Overload() with { Message = odd }, reason: odd), odd)));
        journal.Write(new() { Refusals = [new(RefusalReason.NotJson, 1, new(Noon, RefusalReason.NotJson, odd, odd, new byte[] { 0, 255 }))] });

        Assert.Contains("a quote ' and", Assert.Single(journal.Standing()).Reason);
        Assert.Contains("a quote ' and", Assert.Single(journal.Waiting(1)).Contact);
    }

    [Fact]
    public async Task Contacts_are_kept_replaced_and_removed()
    {
        var electrician = new Contact("Ana", Audience.Electrician, [new(Channel.Mail, "ana@example.org"), new(Channel.Webhook, "https://example.org/a?key=1")]);
        var boater = new Contact("Bo", Audience.Boater, [new(Channel.Push, "{}")])
        {
            Slip = "C-23", Stay = new(Noon, Noon.AddDays(3)), Language = "de", Origin = ContactOrigin.Entered,
        };
        journal.Keep(boater);
        journal.Keep(electrician);
        journal.Keep(electrician with { Addresses = [new(Channel.Mail, "ana@example.com")] });
        journal.Keep(new Contact("Cy", Audience.Harbormaster, []));
        journal.Remove("Cy");
        journal.Remove("nobody");
        await Reopen();

        Assert.Equal(["Ana", "Bo"], journal.Contacts().Select(contact => contact.Name));
        Assert.Equal("ana@example.com", Assert.Single(journal.Contacts()[0].Addresses).Endpoint);
        var read = journal.Contacts()[1];
        Assert.Equal((boater.Role, boater.Slip, boater.Stay, boater.Language, boater.Origin), (read.Role, read.Slip, read.Stay, read.Language, read.Origin));
        Assert.Equal(boater.Addresses, read.Addresses);
    }

    [Fact]
    public void A_site_file_is_written_down_when_it_changes()
    {
        journal.Keep(new SiteFileVersion("site: a", "aa", Noon));
        journal.Keep(new SiteFileVersion("site: a", "aa", Noon.AddHours(1)));
        journal.Keep(new SiteFileVersion("site: b", "bb", Noon.AddHours(2)));
        journal.Keep(new SiteFileVersion("site: a", "aa", Noon.AddHours(3)));

        Assert.Equal([("aa", 3), ("bb", 2), ("aa", 0)], journal.SiteFiles(10).Select(version => (version.Sha256, (int)(version.AppliedAt - Noon).TotalHours)));
        Assert.Equal("site: b", journal.SiteFiles(2)[1].Text);
    }

    [Fact]
    public async Task Refusals_add_up_over_runs_and_the_last_is_kept()
    {
        Refusal At(int second, string detail) => new(Noon.AddSeconds(second), RefusalReason.Negative, "farberth/v1/x", detail, "{}"u8.ToArray());
        journal.Write(new() { Refusals = [new(RefusalReason.Negative, 3, At(0, "first"))] });
        await Reopen();
        journal.Write(new() { Refusals = [new(RefusalReason.Negative, 2, At(9, "second")), new(RefusalReason.TooLarge, 1, At(9, "other") with { Reason = RefusalReason.TooLarge })] });

        Assert.Equal([RefusalReason.TooLarge, RefusalReason.Negative], journal.Refusals().Keys);
        var tally = journal.Refusals()[RefusalReason.Negative];
        Assert.Equal((5, "second", Noon.AddSeconds(9), "{}"), (tally.Count, tally.Last.Detail, tally.Last.At, Encoding.UTF8.GetString(tally.Last.Excerpt.Span)));
    }

    [Fact]
    public async Task One_site_sees_nothing_of_another()
    {
        using var other = await Open("westharbour");
        other.Write(Batch(Entry(Step(0, Overload()), "Ana")));
        other.Keep(new Contact("Ana", Audience.Electrician, []));

        Assert.Empty(journal.Standing());
        Assert.Empty(journal.Waiting(10));
        Assert.Empty(journal.Contacts());
        Assert.Empty(journal.Write(Batch(Entry(Step(0, Overload()), "Ana"))).AlreadyThere);
    }

    [Fact]
    public void What_is_forgotten_neither_stands_nor_waits()
    {
        journal.Write(Batch(
            Entry(Step(0, Overload())), Entry(Step(5, Overload(AlarmState.Acknowledged), AlarmState.Unacknowledged)), Entry(Asked(1), "Bo"), Entry(Asked(2)), Entry(Asked(60))));

        Assert.Equal(2, journal.Forget(Noon.AddSeconds(30)));
        Assert.Equal([60, 1, 5], journal.History(new()).Events.Select(happened => (int)(happened.At - Noon).TotalSeconds));
    }

    [Fact]
    public async Task Two_that_write_at_once_write_each_event_once()
    {
        var batches = Enumerable.Range(0, 40).Select(second => Batch(Entry(Asked(second), "Bo"))).ToList();
        using var second = await Open();
        Parallel.Invoke(() => batches.ForEach(batch => journal.Write(batch)), () => batches.ForEach(batch => second.Write(batch)));

        Assert.Equal(40, journal.Waiting(1000).Count);
    }

    [Fact]
    public async Task Whatever_is_written_it_holds_what_plain_lists_would()
    {
        var sites = 0;
        await JournalModel.AnyBatch.Array[1, 8].SampleAsync(
            async batches =>
            {
                using var one = await Open($"site-{Interlocked.Increment(ref sites)}");
                var model = new JournalModel();
                foreach (var batch in batches)
                {
                    one.Write(batch);
                    model.Write(batch);
                }
                return model.IsHeldBy(one);
            },
            iter: 60, threads: 1);
    }

    IEnumerable<string> InForce(int second) => journal.InForce(Noon.AddSeconds(second)).Select(happened => happened.State);

    IEnumerable<string> States(JournalQuery query) => journal.History(query).Events.Select(happened => happened.State);
}
