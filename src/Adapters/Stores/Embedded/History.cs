using System.Buffers;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>
/// Every reading, one packed blob for each pedestal and minute, and what they come to by the minute and by the quarter
/// of an hour, in one SQLite file. The cursor into the intake log is written with them, so that after a crash neither a
/// reading is missing nor one is there twice. (pedestal, time, seq) names a reading: one that comes late goes to its
/// place, one that comes again changes nothing.
/// </summary>
public sealed class History : IDisposable
{
    static readonly TimeSpan Minute = TimeSpan.FromMinutes(1), Quarter = TimeSpan.FromMinutes(15), Day = TimeSpan.FromDays(1);

    static readonly Comparer<Reading> ByTime = Comparer<Reading>.Create((a, b) =>
        a.Time != b.Time ? a.Time.CompareTo(b.Time) : Nullable.Compare(a.Seq, b.Seq));

    const int MostLately = 10_000;

    readonly Lock writing = new();
    readonly string path;
    readonly HistoryOptions options;
    readonly HistoryFile file;
    readonly Dictionary<string, long> series = [];
    readonly ArrayBufferWriter<byte> bytes = new();

    // Minutes written lately, so that their quarter of an hour need not read them again.
    readonly Dictionary<(long Series, long At), RollUp> lately = [];
    long damaged;

    History(string path, HistoryOptions options, HistoryFile file)
    {
        (this.path, this.options, this.file) = (path, options, file);
        Cursor = file.Cursor;
    }

    /// <summary>Opens the file, or makes it.</summary>
    /// <exception cref="IOException">It is no history, or the disk does not give or take what is needed.</exception>
    public static History Open(string path, HistoryOptions? options = null)
    {
        try
        {
            return new History(path, options ?? HistoryOptions.Usual, HistoryFile.Open(path, toWrite: true));
        }
        catch (SqliteException e)
        {
            throw new IOException($"{path}: {e.Message}", e);
        }
    }

    /// <summary>Opens a history that another process may be writing, to ask it only.</summary>
    /// <exception cref="IOException">It is not there, or no history.</exception>
    public static History OpenToRead(string path)
    {
        try
        {
            return new History(path, HistoryOptions.Usual, HistoryFile.Open(path, toWrite: false));
        }
        catch (SqliteException e)
        {
            throw new IOException($"{path}: {e.Message}", e);
        }
    }

    /// <summary>All of the log before this position is in the history.</summary>
    public LogPosition Cursor { get; private set; }

    /// <summary>Blobs, since opening, that are not what was written; their readings are left out.</summary>
    public long Damaged => Volatile.Read(ref damaged);

    /// <summary>Puts readings into their minutes, and the cursor with them, in one transaction that is on disk when this returns.</summary>
    public Stored Append(IReadOnlyCollection<Reading> readings, LogPosition cursor)
    {
        lock (writing)
        {
            try
            {
                var added = 0;
                file.Transact(() =>
                {
                    added = Add(readings);
                    file.Cursor = cursor;
                });
                Cursor = cursor;
                return new Stored(added);
            }
            catch (SqliteException e)
            {
                // They may hold what was rolled back.
                series.Clear();
                lately.Clear();
                return new Stored(0, e.Message);
            }
        }
    }

    /// <summary>A pedestal's readings from a time on and before another.</summary>
    /// <exception cref="IOException">The disk does not give them.</exception>
    public HistoryRows<Reading> Readings(string pedestal, DateTimeOffset start, DateTimeOffset end, int most) =>
        Query(pedestal, (read, id) => Limited(
            from row in read.Range(Grain.Reading, id, Floor(start, Minute), end.UtcTicks)
            from reading in Opened(row.Blob, id, row.At, pedestal)
            where reading.Time >= start && reading.Time < end
            select reading, most));

    /// <summary>An outlet by the minute.</summary>
    /// <exception cref="IOException">The disk does not give them.</exception>
    public HistoryRows<OutletSpan> Minutes(string pedestal, string outlet, DateTimeOffset start, DateTimeOffset end, int most) =>
        Spans(Grain.Minute, pedestal, outlet, start, end, most);

    /// <summary>An outlet by the quarter of an hour.</summary>
    /// <exception cref="IOException">The disk does not give them.</exception>
    public HistoryRows<OutletSpan> Quarters(string pedestal, string outlet, DateTimeOffset start, DateTimeOffset end, int most) =>
        Spans(Grain.Quarter, pedestal, outlet, start, end, most);

    /// <summary>A pedestal with all its outlets by the minute.</summary>
    /// <exception cref="IOException">The disk does not give them.</exception>
    public HistoryRows<PedestalSpan> Minutes(string pedestal, DateTimeOffset start, DateTimeOffset end, int most) =>
        Spans(Grain.Minute, pedestal, start, end, most);

    /// <summary>A pedestal with all its outlets by the quarter of an hour.</summary>
    /// <exception cref="IOException">The disk does not give them.</exception>
    public HistoryRows<PedestalSpan> Quarters(string pedestal, DateTimeOffset start, DateTimeOffset end, int most) =>
        Spans(Grain.Quarter, pedestal, start, end, most);

    /// <summary>Deletes what is older than it is kept for, and then the oldest days while the file is too large.</summary>
    /// <returns>Null, or what the disk said.</returns>
    public string? Expire(DateTimeOffset now)
    {
        lock (writing)
        {
            try
            {
                Delete(Grain.Reading, now - options.Readings);
                Delete(Grain.Minute, now - options.Minutes);
                Delete(Grain.Quarter, now - options.Quarters);
                foreach (var grain in new[] { Grain.Reading, Grain.Minute })
                    while (file.UsedBytes > options.MostBytes && OldestDay(grain) is { } oldest)
                        Delete(grain, oldest + Day);
                return null;
            }
            catch (SqliteException e)
            {
                return e.Message;
            }
        }
    }

    public void Dispose() => file.Dispose();

    int Add(IReadOnlyCollection<Reading> readings)
    {
        var added = 0;
        var touched = new HashSet<(long Series, long Quarter)>();
        foreach (var (minute, fresh) in ByMinute(readings))
        {
            var before = file.Get(Grain.Reading, minute.Series, minute.At) is { } blob ? Opened(blob, minute.Series, minute.At, fresh[0].Pedestal) : [];
            var all = Merged(before, fresh);
            if (all.Count == before.Count)
                continue;
            added += all.Count - before.Count;
            PutMinute(minute.Series, minute.At, all);
            touched.Add((minute.Series, minute.At - minute.At % Quarter.Ticks));
        }
        foreach (var (id, quarter) in touched)
            PutQuarter(id, quarter);
        return added;
    }

    Dictionary<(long Series, long At), List<Reading>> ByMinute(IReadOnlyCollection<Reading> readings)
    {
        var minutes = new Dictionary<(long, long), List<Reading>>();
        foreach (var reading in readings)
        {
            var minute = (SeriesOf(reading.Pedestal), Floor(reading.Time, Minute));
            if (!minutes.TryGetValue(minute, out var there))
                minutes[minute] = there = [];
            there.Add(reading);
        }
        return minutes;
    }

    /// <summary>Sorted, and each once: the one that was there first.</summary>
    static List<Reading> Merged(List<Reading> before, List<Reading> fresh)
    {
        var all = before.Count == 0 ? fresh : [.. before, .. fresh];
        // A stable sort, so that of two alike the first stays in front. Most minutes come in order, and then it is no work.
        if (!IsInOrder(all))
            all = [.. all.OrderBy(reading => reading, ByTime)];
        for (var i = 1; i < all.Count; i++)
            if (ByTime.Compare(all[i - 1], all[i]) == 0)
                return [.. all.DistinctBy(reading => (reading.Time, reading.Seq))];
        return all;
    }

    static bool IsInOrder(List<Reading> readings)
    {
        for (var i = 1; i < readings.Count; i++)
            if (ByTime.Compare(readings[i - 1], readings[i]) > 0)
                return false;
        return true;
    }

    void PutMinute(long id, long at, List<Reading> readings)
    {
        bytes.ResetWrittenCount();
        MinuteBlob.Write(bytes, readings, Time(at));
        Put(Grain.Reading, id, at);
        bytes.ResetWrittenCount();
        var rolled = RollUp.OfReadings(readings);
        rolled.Write(bytes);
        Put(Grain.Minute, id, at);
        if (lately.Count >= MostLately)
            lately.Clear();
        lately[(id, at)] = rolled;
    }

    void PutQuarter(long id, long at)
    {
        var minutes = file.Range(Grain.Minute, id, at, at + Quarter.Ticks)
            .Select(row => lately.GetValueOrDefault((id, row.At)) ?? RolledUp(Grain.Minute, id, row.At, row.Blob)).OfType<RollUp>().ToList();
        bytes.ResetWrittenCount();
        RollUp.OfMinutes(minutes).Write(bytes);
        Put(Grain.Quarter, id, at);
    }

    void Put(Grain grain, long id, long at) => file.Put(grain, id, at, Sealed.Seal(bytes.WrittenSpan, Place(grain, id), at));

    List<Reading> Opened(byte[] blob, long id, long at, string pedestal)
    {
        if (Sealed.Open(blob, Place(Grain.Reading, id), at) is { } opened)
            return MinuteBlob.Read(opened, pedestal, Time(at));
        Interlocked.Increment(ref damaged);
        return [];
    }

    RollUp? RolledUp(Grain grain, long id, long at, byte[] blob)
    {
        if (Sealed.Open(blob, Place(grain, id), at) is { } opened)
            return RollUp.Read(opened);
        Interlocked.Increment(ref damaged);
        return null;
    }

    HistoryRows<OutletSpan> Spans(Grain grain, string pedestal, string outlet, DateTimeOffset start, DateTimeOffset end, int most) =>
        Query(pedestal, (read, id) => Limited(
            from row in read.Range(grain, id, start.UtcTicks, end.UtcTicks)
            let rolled = RolledUp(grain, id, row.At, row.Blob)
            where rolled?.Outlets.ContainsKey(outlet) == true
            select Span(Time(row.At), rolled, rolled.Outlets[outlet]), most));

    HistoryRows<PedestalSpan> Spans(Grain grain, string pedestal, DateTimeOffset start, DateTimeOffset end, int most) =>
        Query(pedestal, (read, id) => Limited(
            from row in read.Range(grain, id, start.UtcTicks, end.UtcTicks)
            let rolled = RolledUp(grain, id, row.At, row.Blob)
            where rolled is not null
            select new PedestalSpan(Time(row.At), rolled.Readings, rolled.Volts, rolled.Outlets.ToDictionary(
                outlet => outlet.Key, IReadOnlyList<Spread> (outlet) => [outlet.Value[0], outlet.Value[1], outlet.Value[2]])), most));

    static OutletSpan Span(DateTimeOffset start, RollUp rolled, IReadOnlyList<Spread> outlet) => new(
        start, rolled.Readings, rolled.Volts, [outlet[0], outlet[1], outlet[2]],
        outlet[RollUp.Kilovoltamperes], outlet[RollUp.Kilowatts], outlet[RollUp.Celsius]);

    HistoryRows<T> Query<T>(string pedestal, Func<HistoryFile, long, HistoryRows<T>> query)
    {
        try
        {
            // A connection of its own: the write-ahead log lets readers see one state while the writer goes on.
            using var read = HistoryFile.Open(path, toWrite: false);
            return read.Series(pedestal) is { } id ? query(read, id) : new HistoryRows<T>([], false);
        }
        catch (SqliteException e)
        {
            throw new IOException($"{path}: {e.Message}", e);
        }
    }

    static HistoryRows<T> Limited<T>(IEnumerable<T> rows, int most)
    {
        var taken = rows.Take(most + 1).ToList();
        return new([.. taken.Take(most)], taken.Count > most);
    }

    long SeriesOf(string pedestal) => series.TryGetValue(pedestal, out var id) ? id : series[pedestal] = file.SeriesOrNew(pedestal);

    void Delete(Grain grain, DateTimeOffset before) => file.Transact(() =>
    {
        foreach (var id in file.AllSeries())
            file.DeleteBefore(grain, id, before.UtcTicks);
    });

    DateTimeOffset? OldestDay(Grain grain)
    {
        var oldest = file.AllSeries().Select(id => file.Oldest(grain, id)).Where(at => at is not null).Min();
        return oldest is { } at ? Time(at) : null;
    }

    static long Place(Grain grain, long id) => id * 4 + (long)grain;

    static long Floor(DateTimeOffset time, TimeSpan step) => time.UtcTicks - time.UtcTicks % step.Ticks;

    static DateTimeOffset Time(long ticks) => new(ticks, TimeSpan.Zero);
}
