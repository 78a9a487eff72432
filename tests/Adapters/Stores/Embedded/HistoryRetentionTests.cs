using Farberth.Adapters.Stores.Embedded;
using Microsoft.Data.Sqlite;

namespace Farberth.Adapters.Tests.Stores.Embedded;

public class HistoryRetentionTests
{
    static readonly DateTimeOffset Midnight = HistoryGiven.Midnight;

    static void Fill(History history, int days)
    {
        var random = new Random(1);
        for (var day = 0; day < days; day++)
            history.Append([.. Enumerable.Range(0, 1440).Select(minute => HistoryGiven.Reading("C1", day * 86400 + minute * 60, random))], default);
    }

    static int[] Days<T>(HistoryRows<T> rows, Func<T, DateTimeOffset> time) =>
        [.. rows.Rows.Select(row => (time(row) - Midnight).Days).Distinct()];

    [Fact]
    public void Each_grain_is_kept_for_its_own_time()
    {
        using var folder = new TemporaryFolder();
        using var history = History.Open(folder["h"], new(TimeSpan.FromDays(1), TimeSpan.FromDays(2), TimeSpan.FromDays(3), long.MaxValue));
        Fill(history, days: 5);
        Assert.Null(history.Expire(Midnight.AddDays(5)));
        Assert.Equal([4], Days(history.Readings("C1", Midnight, Midnight.AddDays(9), 100_000), reading => reading.Time));
        Assert.Equal([3, 4], Days(history.Minutes("C1", "A", Midnight, Midnight.AddDays(9), 100_000), span => span.Start));
        Assert.Equal([2, 3, 4], Days(history.Quarters("C1", "A", Midnight, Midnight.AddDays(9), 100_000), span => span.Start));
    }

    [Fact]
    public void When_the_file_is_too_large_the_oldest_readings_go_first_and_the_minutes_stay()
    {
        using var folder = new TemporaryFolder();
        var forever = TimeSpan.FromDays(10_000);
        using var history = History.Open(folder["h"], new(forever, forever, forever, 1_500_000));
        Fill(history, days: 5);
        Assert.Null(history.Expire(Midnight.AddDays(5)));
        var kept = Days(history.Readings("C1", Midnight, Midnight.AddDays(9), 100_000), reading => reading.Time);
        Assert.True(kept.Length < 5);
        Assert.Equal(Enumerable.Range(5 - kept.Length, kept.Length), kept);
        Assert.Equal(4, Days(history.Minutes("C1", "A", Midnight, Midnight.AddDays(9), 100_000), span => span.Start).Max());
    }

    [Fact]
    public void A_damaged_blob_is_counted_and_the_rest_is_given()
    {
        using var folder = new TemporaryFolder();
        using var history = History.Open(folder["h"]);
        Fill(history, days: 1);
        using (var foreign = new SqliteConnection($"Data Source={folder["h"]};Pooling=False"))
        {
            foreign.Open();
            using var damage = new SqliteCommand("UPDATE reading SET blob = CAST(substr(blob, 1, 9) || x'00' AS BLOB) WHERE at / 600000000 % 3 = 0", foreign);
            Assert.True(damage.ExecuteNonQuery() > 100);
        }
        var found = history.Readings("C1", Midnight, Midnight.AddDays(1), 100_000).Rows.Count;
        Assert.Equal(1440, found + history.Damaged);
        Assert.InRange(found, 1, 1339);
    }

    [Fact]
    public void A_file_that_is_no_history_is_said()
    {
        using var folder = new TemporaryFolder();
        File.WriteAllText(folder["h"], new string('x', 5000));
        Assert.Contains("not a database", Assert.Throws<IOException>(() => History.Open(folder["h"])).Message, StringComparison.Ordinal);
    }
}
