namespace Farberth.HotAfternoon.Tests;

/// <summary>Everything that can happen to a message, in the short scenario.</summary>
public class MessagesTests
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
            .Ending("/reading")
            .Select(message => $"{message.At:O} {message.Message.Topic} {message.Seq()}");
        Assert.Equal(Marks(Given.FourPosts()), Marks(Given.FourPosts(s => s with { Boats = [.. s.Boats.Skip(1)] })));
    }

    [Fact]
    public void Messages_come_in_order_of_arrival_and_never_before_they_were_made()
    {
        var before = DateTimeOffset.MinValue;
        foreach (var message in Given.FourPosts().Run())
        {
            Assert.True(message.At >= before);
            Assert.True(message.At >= message.Time());
            before = message.At;
        }
    }

    // 120 readings fall due at each pedestal; 5 % are lost, 5 % late, 5 % come twice.
    [Fact]
    public void Some_messages_are_late_some_come_twice_and_some_not_at_all()
    {
        var readings = Given.FourPosts().Run().Ending("Q1/reading");
        long[] seqs = [.. readings.Select(message => message.Seq())];
        Assert.NotEqual(seqs, seqs.Order());
        Assert.InRange(seqs.Distinct().Count(), 105, 119);
        Assert.InRange(seqs.Max() - seqs.Min() + 1, 115, 120);
        var twins = readings.GroupBy(message => message.Seq()).Where(same => same.Count() > 1).ToList();
        Assert.NotEmpty(twins);
        Assert.All(twins, same => Assert.Single(same.Select(message => message.Bytes()).Distinct()));
    }

    [Fact]
    public void Seq_counts_up_by_one_each_ten_seconds()
    {
        var readings = Given.FourPosts().Run().Ending("Q2/reading");
        var first = readings.MinBy(reading => reading.Seq())!;
        foreach (var reading in readings)
            Assert.Equal(10 * (reading.Seq() - first.Seq()), (reading.Time() - first.Time()).TotalSeconds, 9);
    }

    [Fact]
    public void A_silent_pedestal_sends_nothing_and_the_broker_sends_its_last_will()
    {
        var messages = Given.FourPosts().Run().ToList();
        var from = new DateTimeOffset(2027, 8, 3, 15, 5, 0, TimeSpan.Zero); // 16:05 in Lisbon's summer time
        Assert.DoesNotContain(
            messages.Ending("Q3/reading"), reading => reading.Time() >= from && reading.Time() < from.AddMinutes(5));
        var links = messages.Ending("Q3/link");
        Assert.Equal([true, false, true], links.Select(link => link.Json().GetProperty("online").GetBoolean()));
        Assert.All(links, link => Assert.True(link.Message.Retain));
        Assert.Equal([from.AddMinutes(-5), from.AddSeconds(15), from.AddMinutes(5)], links.Select(link => link.At));
    }

    [Fact]
    public void Boats_are_announced_when_they_are_there_come_and_leave()
    {
        var messages = Given.FourPosts().Run().ToList();
        Assert.All(messages.Ending("/boat"), notice => Assert.True(notice.Message.Retain));
        Assert.Equal(
            [
                """{"time":"2027-08-03T15:00:00.000Z","present":false}""",
                """{"time":"2027-08-03T15:04:00.000Z","present":true}""",
                """{"time":"2027-08-03T15:16:00.000Z","present":false}""",
            ],
            messages.Ending("/fourposts/slip/B3/boat").Select(notice => notice.Json().GetRawText()));
    }

    [Fact]
    public void Weather_comes_with_a_forecast_of_twelve_hours()
    {
        var weather = Given.FourPosts().Run().Ending("/weather");
        Assert.Equal(4, weather.Count);
        Assert.All(weather, message => Assert.True(message.Message.Retain));
        var forecast = weather[0].Json().GetProperty("forecast").EnumerateArray().ToList();
        Assert.Equal(12, forecast.Count);
        Assert.Equal(weather[0].Time().AddHours(1), forecast[0].GetProperty("time").GetDateTimeOffset());
        Assert.Equal(34, weather[0].Json().GetProperty("celsius").GetDouble(), 0.5);
        Assert.True(forecast[11].GetProperty("celsius").GetDouble() < 26);
    }

    static List<string> Lines(Simulation simulation) => [.. simulation.Run().Select(message =>
        $"{message.At:O} {message.Message.Topic} {message.Message.Retain} {message.Bytes()}")];
}
