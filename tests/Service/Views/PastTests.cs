using Farberth.Adapters.Stores.Embedded;
using Farberth.Adapters.Stores.Intake;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service.Views;
using Microsoft.Extensions.Time.Testing;

namespace Farberth.Service.Tests.Views;

public sealed class PastTests : IDisposable
{
    static readonly SiteDefinition Site = Given.FourPosts();
    static readonly DockDefinition Quay = Site.Docks["Q"];
    static readonly DateTimeOffset Noon = QuayReadings.Noon;

    readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("farberth-");
    readonly History history;
    readonly FakeTimeProvider clock = new(Noon.AddHours(2));

    public PastTests()
    {
        history = History.Open(Path.Combine(folder.FullName, "history.sqlite"));
        Assert.True(history.Append([.. QuayReadings.Hour(Quay)], new LogPosition(1)).IsDurable);
    }

    static CancellationToken Cancel => TestContext.Current.CancellationToken;

    Past Past(IJournal? journal = null, SiteDefinition? site = null) => new(site ?? Site, history, new(journal, [], null), clock);

    public void Dispose()
    {
        history.Dispose();
        folder.Delete(recursive: true);
    }

    /// <summary>What the monitor of that day gave at its ticks.</summary>
    static Dictionary<DateTimeOffset, DockStep> Live()
    {
        var monitor = new DockMonitor(Site, Quay);
        var steps = new Dictionary<DateTimeOffset, DockStep>();
        using var readings = QuayReadings.Hour(Quay).GetEnumerator();
        var more = readings.MoveNext();
        for (var tick = Noon; tick <= Noon.AddHours(1); tick += SiteMonitor.Tick)
        {
            for (; more && readings.Current.Time < tick; more = readings.MoveNext())
                monitor.Take(readings.Current, readings.Current.Time);
            steps[tick] = monitor.Step(tick);
        }
        return steps;
    }

    [Fact]
    public async Task A_moment_of_the_past_is_what_the_monitor_gave_then_within_what_it_had_learned()
    {
        var live = Live();
        using var past = Past();
        foreach (var minute in new[] { 3.0, 16.25, 29.5, 44.75, 59.0 })
        {
            var then = live[Noon.AddMinutes(minute)];
            var now = await past.At("Q", Noon.AddMinutes(minute), Cancel);
            Assert.Equal(then.Now, now.At);
            foreach (var (name, pedestal) in then.Picture.Estimate.Pedestals)
            {
                Assert.Equal(then.Picture.Image.Pedestals[name].Latest!.Seq, now.Step.Picture.Image.Pedestals[name].Latest!.Seq);
                foreach (var leg in pedestal.Volts.Legs)
                    // Nothing is learned that would move it by as much as its own uncertainty.
                    Assert.Equal(pedestal.Volts[leg], now.Step.Picture.Estimate.Pedestals[name].Volts[leg], pedestal.VoltsSd[leg] / 2);
            }
            Assert.True(now.Step.Picture.Image.IsWhole);
        }
    }

    [Fact]
    public async Task Readings_after_the_moment_have_no_say()
    {
        using var past = Past();
        var moment = await past.At("Q", Noon.AddMinutes(20), Cancel);
        Assert.All(moment.Step.Picture.Image.Pedestals.Values, pedestal => Assert.True(pedestal.Latest!.Time < Noon.AddMinutes(20)));
    }

    [Fact]
    public async Task Of_a_time_of_which_nothing_is_kept_there_is_nothing_and_it_says_so()
    {
        using var past = Past();
        var moment = await past.At("Q", Noon.AddDays(-1), Cancel);
        Assert.Equal(0, moment.Readings);
        Assert.All(moment.Step.Picture.Image.Pedestals.Values, pedestal => Assert.Null(pedestal.Latest));
    }

    [Fact]
    public async Task A_moment_that_was_asked_for_is_not_worked_out_again_until_many_others_were()
    {
        using var past = Past();
        var first = await past.At("Q", Noon.AddMinutes(20), Cancel);
        Assert.Same(first, await past.At("Q", Noon.AddMinutes(20).AddMilliseconds(400), Cancel));
        for (var second = 1; second <= 40; second++)
            await past.At("Q", Noon.AddMinutes(20).AddSeconds(second), Cancel);
        Assert.NotSame(first, await past.At("Q", Noon.AddMinutes(20), Cancel));
    }

    [Fact]
    public async Task A_moment_so_new_that_readings_may_still_come_is_worked_out_each_time()
    {
        using var past = new Past(Site, history, new(null, [], null), new FakeTimeProvider(Noon.AddMinutes(20).AddSeconds(10)));
        Assert.NotSame(await past.At("Q", Noon.AddMinutes(20), Cancel), await past.At("Q", Noon.AddMinutes(20), Cancel));
    }

    [Fact]
    public async Task Alarms_are_those_that_the_journal_says_stood_then()
    {
        using var journal = new SqliteJournal(Path.Combine(folder.FullName, "journal.sqlite"), Site.Name);
        var alarm = new Alarm("Q.Q1.A.overload", AlarmKind.Overload, AlarmState.Unacknowledged, Priority.High, Noon.AddMinutes(10), new("Q", Pedestal: "Q1", Outlet: "A", Slip: "B1"),
            Audience.Electrician, "Too much.", []);
        journal.Write(new()
        {
            Entries =
            [
                new(new AlarmStepped(new(Noon.AddMinutes(10), AlarmState.Normal, alarm, "raised")), []),
                new(new AlarmStepped(new(Noon.AddMinutes(30), AlarmState.Unacknowledged, alarm with { State = AlarmState.Normal }, "gone")), []),
            ],
        });
        using var past = Past(journal);
        Assert.Empty((await past.At("Q", Noon.AddMinutes(10).AddSeconds(-1), Cancel)).Step.Standing);
        Assert.Equal([alarm.Id], (await past.At("Q", Noon.AddMinutes(10), Cancel)).Step.Standing.Select(one => one.Id));
        Assert.Empty((await past.At("Q", Noon.AddMinutes(30), Cancel)).Step.Standing);
    }

    [Fact]
    public async Task An_outlet_that_the_site_file_has_no_more_is_left_out()
    {
        var text = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data/hot-afternoon/four-posts.site.yaml"));
        var smaller = SiteFile.Read(text.Replace("          B: { rating: 16 A, legs: [L2], slip: B2 }\n", "", StringComparison.Ordinal)).Site!;
        using var past = Past(site: smaller);
        var moment = await past.At("Q", Noon.AddMinutes(20), Cancel);
        Assert.Equal(["A"], moment.Step.Picture.Image.Pedestals["Q1"].Outlets.Keys);
        Assert.True(moment.Step.Picture.Estimate.Pedestals["Q1"].Volts.Has(Leg.L1));
    }
}
