using CsCheck;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Stores.Embedded;

public class HistoryTests
{
    static readonly DateTimeOffset Midnight = HistoryGiven.Midnight;

    static List<string> All(History history, string pedestal) =>
        [.. history.Readings(pedestal, DateTimeOffset.MinValue, Midnight.AddYears(1), int.MaxValue - 1).Rows.Select(HistoryGiven.Written)];

    [Fact]
    public void Whatever_was_sent_comes_back_to_the_last_bit_once_whatever_the_order_and_the_repeats()
    {
        using var folder = new TemporaryFolder();
        var made = 0;
        Gen.Select(HistoryGiven.Any("C1").List[0, 40], Gen.Int[1, 7], Gen.Int[0, 1000]).Sample((readings, batch, seed) =>
        {
            using var history = History.Open(folder[$"{Interlocked.Increment(ref made)}.sqlite"]);
            var random = new Random(seed);
            var stream = readings.Concat(readings.Where(_ => random.Next(3) == 0)).ToList();
            foreach (var part in stream.Chunk(batch))
                Assert.True(history.Append(part, new LogPosition(1)).IsDurable);
            var expected = readings.DistinctBy(reading => (reading.Time, reading.Seq))
                .OrderBy(reading => reading.Time).ThenBy(reading => reading.Seq).Select(HistoryGiven.Written);
            Assert.Equal(expected, All(history, "C1"));
        }, iter: 100);
    }

    [Fact]
    public void The_cursor_and_the_readings_are_there_again_after_reopening()
    {
        using var folder = new TemporaryFolder();
        var reading = HistoryGiven.Reading("C1", 5, new Random(1));
        using (var history = History.Open(folder["h"]))
            Assert.Equal(new Stored(1), history.Append([reading, reading], new LogPosition(77)));
        using var again = History.Open(folder["h"]);
        Assert.Equal(new LogPosition(77), again.Cursor);
        Assert.Equal([HistoryGiven.Written(reading)], All(again, "C1"));
        Assert.Equal(new Stored(0), again.Append([reading], new LogPosition(78)));
    }

    [Fact]
    public void What_readings_come_to_is_what_adding_them_up_gives()
    {
        using var folder = new TemporaryFolder();
        using var history = History.Open(folder["h"]);
        var random = new Random(2);
        var readings = Enumerable.Range(0, 3600).Where(_ => random.Next(4) > 0).Select(second => HistoryGiven.Reading("C1", second, random)).ToList();
        foreach (var part in readings.OrderBy(_ => random.Next()).Chunk(500))
            history.Append(part, default);

        var minutes = history.Minutes("C1", "B", Midnight, Midnight.AddHours(1), 100).Rows;
        Assert.Equal(60, minutes.Count);
        foreach (var minute in minutes)
        {
            var within = readings.Where(reading => reading.Time >= minute.Start && reading.Time < minute.Start.AddMinutes(1)).ToList();
            Assert.Equal(within.Count, minute.Readings);
            AssertSpread(within.Select(reading => reading.Volts.L2), minute.Volts[1]);
            AssertSpread(within.Select(reading => reading.Outlets["B"].Amps.L2), minute.Amps[1]);
            AssertSpread(within.Select(reading => reading.Volts.L2 * reading.Outlets["B"].Amps.L2 / 1000), minute.Kilovoltamperes);
            Assert.False(minute.Amps[0].IsThere || minute.Kilowatts.IsThere || minute.Celsius.IsThere);
        }
        var quarters = history.Quarters("C1", "B", Midnight, Midnight.AddHours(1), 100).Rows;
        Assert.Equal(4, quarters.Count);
        foreach (var (quarter, at) in quarters.Select((quarter, at) => (quarter, at)))
        {
            var within = minutes.Skip(15 * at).Take(15).ToList();
            Assert.Equal(within.Average(minute => minute.Amps[1].Mean), quarter.Amps[1].Mean, 1e-9);
            Assert.Equal(within.Max(minute => minute.Amps[1].Most), quarter.Amps[1].Most);
            Assert.Equal(within.Average(minute => minute.Kilovoltamperes.Mean), quarter.Kilovoltamperes.Mean, 1e-9);
        }
    }

    /// <summary>Ohm's law by hand: 120 V and 118 V to neutral, 20 A and 10 A: 2.4 + 1.18 kVA.</summary>
    [Fact]
    public void Both_legs_of_an_outlet_add_up()
    {
        using var folder = new TemporaryFolder();
        using var history = History.Open(folder["h"]);
        var outlet = new OutletReading(new(20, 10, double.NaN), new(2300, 1100, double.NaN), 41.5, null, true);
        history.Append([new Reading(Midnight, "C1", 1, new(120, 118, double.NaN), new Dictionary<string, OutletReading> { ["A"] = outlet })], default);
        var minute = Assert.Single(history.Minutes("C1", "A", Midnight, Midnight.AddDays(1), 10).Rows);
        Assert.Equal(3.58, minute.Kilovoltamperes.Mean, 1e-12);
        Assert.Equal(3.4, minute.Kilowatts.Mean, 1e-12);
        Assert.Equal(41.5, minute.Celsius.Most);
    }

    [Fact]
    public void A_query_gives_no_more_rows_than_were_asked_for_and_says_so()
    {
        using var folder = new TemporaryFolder();
        using var history = History.Open(folder["h"]);
        history.Append([.. Enumerable.Range(0, 300).Select(second => HistoryGiven.Reading("C1", second, new Random(second)))], default);
        Assert.Equal((10, true), Counted(history.Readings("C1", Midnight, Midnight.AddDays(1), 10)));
        Assert.Equal((5, false), Counted(history.Minutes("C1", "A", Midnight, Midnight.AddDays(1), 5)));
        Assert.Equal((4, true), Counted(history.Minutes("C1", "A", Midnight, Midnight.AddDays(1), 4)));
        Assert.Equal((0, false), Counted(history.Minutes("C1", "Z", Midnight, Midnight.AddDays(1), 4)));
        Assert.Equal((0, false), Counted(history.Readings("C9", Midnight, Midnight.AddDays(1), 4)));
        Assert.All(history.Readings("C1", Midnight.AddSeconds(90.5), Midnight.AddSeconds(100), 100).Rows,
            reading => Assert.InRange(reading.Time, Midnight.AddSeconds(90.5), Midnight.AddSeconds(100)));
    }

    static (int, bool) Counted<T>(HistoryRows<T> rows) => (rows.Rows.Count, rows.IsCut);

    static void AssertSpread(IEnumerable<double> values, Spread spread)
    {
        var all = values.ToList();
        Assert.Equal((all.Min(), all.Max()), (spread.Least, spread.Most));
        Assert.Equal(all.Average(), spread.Mean, 1e-9);
    }
}
