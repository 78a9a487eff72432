using System.Buffers;
using System.Globalization;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace Farberth.Adapters.Tests.Stores.Embedded;

/// <summary>
/// Measured, not judged: appends beside a bare SQLite blob store, and one outlet's day. A row is one outlet in one
/// reading; a pedestal says four outlets a second. The environment variable MEASURED_ROWS sets how many.
/// </summary>
public class HistoryMeasured(ITestOutputHelper output)
{
    const int Outlets = 4, Pedestals = 20, MinutesABatch = 5;

    static readonly long Rows = long.Parse(Environment.GetEnvironmentVariable("MEASURED_ROWS") ?? "10000000", CultureInfo.InvariantCulture);

    [Fact(Explicit = true)]
    public void Appends_and_one_outlets_day()
    {
        using var folder = new TemporaryFolder();
        var minutes = (int)(Rows / (Pedestals * 60 * Outlets));
        using (var history = History.Open(folder["h"]))
        {
            var (ours, bare, packing) = Append(history, folder["bare"], minutes);
            output.WriteLine($"{Rows:N0} rows in {minutes} minutes of {Pedestals} pedestals; {new FileInfo(folder["h"]).Length / (double)Rows:F2} bytes a row");
            output.WriteLine($"history {Rows / ours.TotalSeconds:N0} rows/s; bare blobs, packed {Rows / (bare + packing).TotalSeconds:N0} rows/s, inserts alone {Rows / bare.TotalSeconds:N0} rows/s");
            output.WriteLine($"history takes {ours / (bare + packing):F2} times as long as packing and inserting the bare blobs");
        }
        using var opened = History.Open(folder["h"]);
        var first = HistoryGiven.Midnight.AddMinutes(Math.Max(0, minutes / 2 - 720));
        for (var round = 0; round < 7; round++)
        {
            var began = TimeProvider.System.GetTimestamp();
            var day = opened.Minutes("P7", "B", first.AddMinutes(round), first.AddMinutes(round).AddDays(1), 1440);
            output.WriteLine($"{day.Rows.Count} minutes of one outlet in {TimeProvider.System.GetElapsedTime(began).TotalMilliseconds:F1} ms");
        }
    }

    /// <summary>Both stores take the same readings in turn, so that a noisy machine is noisy for both.</summary>
    static (TimeSpan Ours, TimeSpan Bare, TimeSpan Packing) Append(History history, string path, int minutes)
    {
        var random = new Random(1);
        var (ours, bare, packing) = (TimeSpan.Zero, TimeSpan.Zero, TimeSpan.Zero);
        using var store = new BareStore(path);
        var pool = Enumerable.Range(0, Pedestals).Select(p => Enumerable.Range(0, MinutesABatch * 60).Select(s => HistoryGiven.Reading($"P{p}", s, random)).ToList()).ToList();
        for (var minute = 0; minute < minutes; minute += MinutesABatch)
        {
            var batch = pool.Select(one => one.ConvertAll(reading => reading with { Time = reading.Time.AddMinutes(minute), Seq = reading.Seq + minute * 60 })).ToList();
            var all = batch.SelectMany(readings => readings).ToList();
            ours += Timed(() => Assert.True(history.Append(all, default).IsDurable));
            List<(int, long, byte[])> blobs = [];
            packing += Timed(() => blobs = Packed(batch));
            bare += Timed(() => store.Insert(blobs));
        }
        return (ours, bare, packing);
    }

    static List<(int, long, byte[])> Packed(List<List<Reading>> batch)
    {
        var blobs = new List<(int, long, byte[])>();
        var bytes = new ArrayBufferWriter<byte>();
        for (var pedestal = 0; pedestal < batch.Count; pedestal++)
            foreach (var readings in batch[pedestal].Chunk(60))
            {
                var at = readings[0].Time.UtcTicks / TimeSpan.TicksPerMinute * TimeSpan.TicksPerMinute;
                bytes.ResetWrittenCount();
                MinuteBlob.Write(bytes, readings, new DateTimeOffset(at, TimeSpan.Zero));
                blobs.Add((pedestal, at, Sealed.Seal(bytes.WrittenSpan, pedestal, at)));
            }
        return blobs;
    }

    static TimeSpan Timed(Action work)
    {
        var began = TimeProvider.System.GetTimestamp();
        work();
        return TimeProvider.System.GetElapsedTime(began);
    }

    /// <summary>What the history is held against: one table of blobs, synchronous FULL, a transaction a batch, nothing else.</summary>
    sealed class BareStore : IDisposable
    {
        readonly SqliteConnection connection;

        public BareStore(string path)
        {
            connection = new SqliteConnection($"Data Source={path};Pooling=False");
            connection.Open();
            using var schema = new SqliteCommand(
                "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE blobs (series INTEGER, at INTEGER, blob BLOB, PRIMARY KEY (series, at)) WITHOUT ROWID",
                connection);
            schema.ExecuteNonQuery();
        }

        public void Insert(List<(int Series, long At, byte[] Blob)> blobs)
        {
            using var transaction = connection.BeginTransaction();
            using var insert = new SqliteCommand("INSERT INTO blobs VALUES ($s, $a, $b)", connection, transaction);
            var (series, at, blob) = (insert.Parameters.AddWithValue("$s", 0), insert.Parameters.AddWithValue("$a", 0L), insert.Parameters.AddWithValue("$b", Array.Empty<byte>()));
            foreach (var one in blobs)
            {
                (series.Value, at.Value, blob.Value) = (one.Series, one.At, one.Blob);
                insert.ExecuteNonQuery();
            }
            transaction.Commit();
        }

        public void Dispose() => connection.Dispose();
    }
}
