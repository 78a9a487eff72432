using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Journaling;
using Farberth.Service.LongHistory;
using Farberth.Service.Loop;
using Farberth.Service.Views;
using Farberth.Service.Watched;

namespace Farberth.Service.Tests;

public class ServiceHealthTests
{
    static readonly DateTimeOffset Start = DateTimeOffset.Parse("2027-07-17T15:00:00Z");

    [Fact]
    public void A_service_that_just_begins_lives_and_is_not_ready()
    {
        var health = Of(SiteView.AtStart(Given.FourPosts()), Start);
        Assert.Equal((true, false), (health.IsLive, health.IsReady));
        Assert.Equal("no pedestal has been heard yet", Part(health, "readings").Reason);
    }

    [Fact]
    public void A_watched_dock_is_ready_and_every_part_says_why()
    {
        var health = Of(Watched(), Start.AddSeconds(3));
        Assert.True(health.IsReady);
        Assert.All(health.Parts, part => Assert.Equal(PartState.Good, part.State));
        Assert.All(health.Parts, part => Assert.NotEqual("", part.Reason));
    }

    [Fact]
    public void Readings_are_old_when_no_pedestal_has_been_heard_for_as_long_as_the_page_calls_one_silent()
    {
        Assert.Equal(PartState.Good, Part(Of(Watched(), Start.AddSeconds(90)), "readings").State);
        Assert.Equal(PartState.Failed, Part(Of(Watched(), Start.AddSeconds(91)), "readings").State);
    }

    [Fact]
    public void Without_ticks_the_process_does_not_live()
    {
        Assert.True(Of(Watched(), Start.AddSeconds(16)).IsLive); // the last tick came one second after the start
        Assert.False(Of(Watched(), Start.AddSeconds(17)).IsLive);
    }

    [Fact]
    public void A_broker_that_is_away_and_a_disk_that_takes_nothing_are_told_with_their_reasons()
    {
        var away = Of(Watched() with { Link = new(LinkPhase.Waiting, "connection refused") }, Start.AddSeconds(3));
        Assert.Equal((false, "waiting connection refused"), (away.IsReady, Part(away, "broker").Reason));
        var full = Of(Watched() with { Intake = new IntakeState("no space left", Start) }, Start.AddSeconds(3));
        Assert.Equal((false, "the disk takes nothing: no space left"), (full.IsReady, Part(full, "store").Reason));
        Assert.Equal(PartState.Doubtful, Part(Of(Watched() with { Intake = new IntakeState(Lost: 3) }, Start.AddSeconds(3)), "store").State);
    }

    [Fact]
    public void A_history_that_takes_nothing_is_for_somebody_to_look_at_while_the_log_keeps_the_readings()
    {
        var health = ServiceHealth.Of(Watched(), WrittenDown, "database disk image is malformed", [], Start, Start.AddSeconds(3));
        Assert.True(health.IsReady);
        Assert.Equal(
            (PartState.Doubtful, "takes no readings: database disk image is malformed; the intake log keeps them"), (Part(health, "history").State, Part(health, "history").Reason));
    }

    [Theory]
    [InlineData("", 0.10, PartState.Good)]
    [InlineData("", 0.75, PartState.Doubtful)]
    [InlineData("no answer", 0.01, PartState.Doubtful)]
    public void A_long_history_that_lags_is_told_and_makes_nothing_unready(string problem, double fill, PartState expected)
    {
        var state = new ForwarderState(default, default, 5000, TimeSpan.FromSeconds(60), 0, 0, 0, 0, problem);
        var health = ServiceHealth.Of(Watched(), WrittenDown, null, [new Carried("readings", state, fill)], Start, Start.AddSeconds(3));
        Assert.Equal((true, expected), (health.IsReady, Part(health, "history of readings").State));
        Assert.Contains("5000 bytes", Part(health, "history of readings").Reason);
    }

    [Theory]
    [InlineData(null, 0, PartState.Good)]
    [InlineData(null, 3, PartState.Doubtful)]
    [InlineData("no connection", 0, PartState.Doubtful)]
    public void A_journal_that_is_away_is_told_and_makes_nothing_unready(string? away, long lost, PartState expected)
    {
        var health = ServiceHealth.Of(Watched(), new JournalState(away, 7, 0, lost), null, [], Start, Start.AddSeconds(3));
        Assert.Equal((true, expected), (health.IsReady, Part(health, "journal").State));
    }

    static readonly JournalState WrittenDown = new(null, 0, 0, 0);

    static ServiceHealth Of(SiteView view, DateTimeOffset now) => ServiceHealth.Of(view, WrittenDown, null, [], Start, now);

    static HealthPart Part(ServiceHealth health, string name) => health.Parts.Single(part => part.Name == name);

    /// <summary>One pedestal was heard at the start, and the dock judged one second later.</summary>
    static SiteView Watched()
    {
        var site = Given.FourPosts();
        var monitor = new SiteMonitor(site);
        var pedestal = site.Docks.Values.First().Pedestals.Keys.First();
        monitor.Take(new RecordedMessage(Start, new WireMessage(
            $"farberth/v1/{site.Name}/pedestal/{pedestal}/reading", """{"time":"2027-07-17T15:00:00Z","volts":{"L1":120}}"""u8.ToArray())));
        var step = monitor.Advance(Start.AddSeconds(1)).Last();
        var view = SiteView.AtStart(site);
        return view.After(step, view.Refusals, new(LinkPhase.Connected), view.Counts, 0);
    }
}
