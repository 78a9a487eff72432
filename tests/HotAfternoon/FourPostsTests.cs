using System.Text;
using System.Text.Json;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>The short scenario: everything that can happen to a message, on a three-phase quay.</summary>
public class FourPostsTests
{
    [Fact]
    public void The_same_scenario_gives_the_same_bytes() => Assert.Equal(Lines(Given.FourPosts()), Lines(Given.FourPosts()));

    [Fact]
    public void Another_seed_gives_other_bytes() =>
        Assert.NotEqual(Lines(Given.FourPosts()), Lines(Given.FourPosts(scenario => scenario with { Seed = 8 })));

    [Fact]
    public void One_boat_less_changes_neither_times_nor_counters_nor_losses_of_any_meter()
    {
        static IEnumerable<string> Marks(Simulation simulation) => simulation.Run()
            .Where(message => message.Message.Topic.EndsWith("/reading", StringComparison.Ordinal))
            .Select(message => $"{message.At:O} {message.Message.Topic} {Parse(message).GetProperty("seq")}");
        Assert.Equal(Marks(Given.FourPosts()), Marks(Given.FourPosts(s => s with { Boats = [.. s.Boats.Skip(1)] })));
    }

    [Fact]
    public void Messages_come_in_order_of_arrival_and_never_before_they_were_made()
    {
        var before = DateTimeOffset.MinValue;
        foreach (var message in Given.FourPosts().Run())
        {
            Assert.True(message.At >= before);
            Assert.True(message.At >= Parse(message).GetProperty("time").GetDateTimeOffset());
            before = message.At;
        }
    }

    [Fact]
    public void Source_power_is_loads_and_losses_in_every_step()
    {
        var simulation = Given.FourPosts();
        foreach (var step in simulation.Steps())
        {
            var solution = step.Truth.Docks["Q"].Solution;
            var gap = solution.Balance.Source - solution.Balance.Loads - solution.Balance.Losses;
            Assert.True(solution.Settled);
            Assert.True(gap.Magnitude <= 1e-9 * solution.Balance.Source.Magnitude);
        }
    }

    [Fact]
    public void Some_messages_are_late_some_come_twice_and_some_not_at_all()
    {
        var readings = Given.FourPosts().Run().Where(m => m.Message.Topic.EndsWith("Q1/reading", StringComparison.Ordinal)).ToList();
        var seqs = readings.Select(message => Parse(message).GetProperty("seq").GetInt64()).ToList();
        Assert.NotEqual(seqs, seqs.Order());
        var twins = readings.GroupBy(message => Parse(message).GetProperty("seq").GetInt64()).Where(same => same.Count() > 1).ToList();
        Assert.NotEmpty(twins);
        Assert.All(twins, same => Assert.Single(same.Select(m => Encoding.UTF8.GetString(m.Message.Payload.Span)).Distinct()));
        Assert.InRange(seqs.Distinct().Count(), 105, 119);
        Assert.InRange(seqs.Max() - seqs.Min() + 1, 115, 120);
    }

    [Fact]
    public void Seq_counts_up_by_one_each_ten_seconds()
    {
        var readings = Given.FourPosts().Run()
            .Where(m => m.Message.Topic.EndsWith("Q2/reading", StringComparison.Ordinal))
            .Select(Parse)
            .OrderBy(reading => reading.GetProperty("seq").GetInt64())
            .ToList();
        var first = readings[0];
        foreach (var reading in readings)
        {
            var number = reading.GetProperty("seq").GetInt64() - first.GetProperty("seq").GetInt64();
            var elapsed = reading.GetProperty("time").GetDateTimeOffset() - first.GetProperty("time").GetDateTimeOffset();
            Assert.Equal(10 * number, elapsed.TotalSeconds, 9);
        }
    }

    [Fact]
    public void A_silent_pedestal_sends_nothing_and_the_broker_sends_its_last_will()
    {
        var messages = Given.FourPosts().Run().Where(m => m.Message.Topic.Contains("/Q3/", StringComparison.Ordinal)).ToList();
        var from = new DateTimeOffset(2027, 8, 3, 15, 5, 0, TimeSpan.Zero); // 16:05 in Lisbon's summer time
        var sent = messages.Where(m => m.Message.Topic.EndsWith("reading", StringComparison.Ordinal)).Select(m => Parse(m).GetProperty("time").GetDateTimeOffset());
        Assert.DoesNotContain(sent, time => time >= from && time < from.AddMinutes(5));
        var links = messages.Where(m => m.Message.Topic.EndsWith("link", StringComparison.Ordinal)).ToList();
        Assert.Equal([true, false, true], links.Select(m => Parse(m).GetProperty("online").GetBoolean()));
        Assert.All(links, link => Assert.True(link.Message.Retain));
        Assert.Equal(from.AddSeconds(15), links[1].At);
    }

    [Fact]
    public void Boats_are_announced_when_they_are_there_come_and_leave()
    {
        var notices = Given.FourPosts().Run().Where(m => m.Message.Topic.EndsWith("/boat", StringComparison.Ordinal)).ToList();
        Assert.All(notices, notice => Assert.True(notice.Message.Retain));
        var b3 = notices.Where(m => m.Message.Topic == "farberth/v1/fourposts/slip/B3/boat").Select(m => Parse(m)).ToList();
        Assert.Equal([false, true, false], b3.Select(notice => notice.GetProperty("present").GetBoolean()));
        Assert.Equal(["2027-08-03T15:00:00.000Z", "2027-08-03T15:04:00.000Z", "2027-08-03T15:16:00.000Z"], b3.Select(notice => notice.GetProperty("time").GetString()));
    }

    [Fact]
    public void An_overloaded_breaker_opens_says_so_and_is_reset()
    {
        var open = new List<DateTime>();
        foreach (var step in Given.FourPosts().Steps())
        {
            if (step.Truth.Docks["Q"].OpenOutlets.Contains("Q1.B"))
                open.Add(step.Truth.Local);
            foreach (var message in step.Arrived.Where(m => m.Message.Topic.EndsWith("Q1/reading", StringComparison.Ordinal)))
            {
                var reading = Parse(message);
                var outlet = reading.GetProperty("outlets").GetProperty("B");
                if (!outlet.GetProperty("closed").GetBoolean())
                    Assert.Equal(0, outlet.GetProperty("amps").GetProperty("L2").GetDouble(), 9);
            }
        }
        Assert.InRange(open.First().TimeOfDay, new TimeSpan(16, 3, 0), new TimeSpan(16, 14, 0));
        Assert.Equal(new TimeSpan(16, 14, 59), open.Last().TimeOfDay);
    }

    [Fact]
    public void Readings_are_the_truth_within_the_meters_errors()
    {
        var worst = 0.0;
        foreach (var step in Given.FourPosts(s => s with { Meters = s.Meters with { LateShare = 0, DuplicateShare = 0, Lateness = TimeSpan.Zero } }).Steps())
            foreach (var message in step.Arrived.Where(m => m.Message.Topic.EndsWith("/reading", StringComparison.Ordinal)))
            {
                var pedestal = message.Message.Topic.Split('/')[^2];
                foreach (var leg in new[] { Leg.L1, Leg.L2, Leg.L3 })
                {
                    var said = Parse(message).GetProperty("volts").GetProperty(leg.ToString()).GetDouble();
                    worst = Math.Max(worst, Math.Abs(said - step.Truth.Docks["Q"].Volts(pedestal, leg)));
                }
            }
        // Five spreads of a 0.3 % gain on 230 V and five of 0.1 V noise, and half the resolution.
        Assert.InRange(worst, 0.2, 5 * 0.003 * 230 + 0.5 + 0.05);
    }

    [Fact]
    public void A_boat_whose_own_main_is_open_draws_nothing_from_a_live_outlet()
    {
        foreach (var truth in Given.FourPosts().Steps().Select(step => step.Truth))
        {
            var amps = truth.Docks["Q"].OutletAmps(new OutletName("Q3", "A"), Leg.L1);
            Assert.True(truth.Local.TimeOfDay < new TimeSpan(16, 12, 0) ? amps > 3 : amps == 0);
        }
    }

    [Fact]
    public void A_load_between_legs_leaves_the_neutral_alone()
    {
        var dock = Given.FourPosts().Steps().Last().Truth.Docks["Q"];
        Assert.Equal(0, dock.CableAmps("Q4", Leg.N), 6);
        Assert.True(dock.CableAmps("Q4", Leg.L2) > 5);
        Assert.Equal(dock.CableAmps("Q4", Leg.L2), dock.PedestalAmps("Q4", Leg.L2), 9);
    }

    static List<string> Lines(Simulation simulation) =>
        [.. simulation.Run().Select(m => $"{m.At:O} {m.Message.Topic} {m.Message.Retain} {Convert.ToHexString(m.Message.Payload.Span)}")];

    static JsonElement Parse(RecordedMessage message) => JsonDocument.Parse(message.Message.Payload).RootElement;
}
