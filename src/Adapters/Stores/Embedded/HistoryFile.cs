using System.Globalization;
using Farberth.Adapters.Stores.Intake;
using Microsoft.Data.Sqlite;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>The three kinds of rows, each a table of blobs by series and time.</summary>
enum Grain
{
    Reading,
    Minute,
    Quarter,
}

/// <summary>The SQLite file: tables, statements and nothing that knows what a blob means. One thread at a time.</summary>
sealed class HistoryFile : IDisposable
{
    const string Schema = """
        PRAGMA journal_mode = WAL;
        PRAGMA synchronous = FULL;
        CREATE TABLE IF NOT EXISTS series (id INTEGER PRIMARY KEY, pedestal TEXT NOT NULL UNIQUE);
        CREATE TABLE IF NOT EXISTS reading (series INTEGER, at INTEGER, blob BLOB NOT NULL, PRIMARY KEY (series, at)) WITHOUT ROWID;
        CREATE TABLE IF NOT EXISTS minute (series INTEGER, at INTEGER, blob BLOB NOT NULL, PRIMARY KEY (series, at)) WITHOUT ROWID;
        CREATE TABLE IF NOT EXISTS quarter (series INTEGER, at INTEGER, blob BLOB NOT NULL, PRIMARY KEY (series, at)) WITHOUT ROWID;
        CREATE TABLE IF NOT EXISTS cursor (id INTEGER PRIMARY KEY CHECK (id = 0), position INTEGER NOT NULL);
        INSERT OR IGNORE INTO cursor VALUES (0, 0);
        """;

    readonly SqliteConnection connection;
    readonly Dictionary<string, SqliteCommand> prepared = [];
    SqliteTransaction? transaction;

    HistoryFile(SqliteConnection connection) => this.connection = connection;

    /// <exception cref="SqliteException">The file is no database, or the disk does not give or take it.</exception>
    public static HistoryFile Open(string path, bool toWrite)
    {
        var address = new SqliteConnectionStringBuilder
        {
            DataSource = path,
            Mode = toWrite ? SqliteOpenMode.ReadWriteCreate : SqliteOpenMode.ReadOnly,
            Pooling = false,
        };
        var file = new HistoryFile(new SqliteConnection(address.ToString()));
        file.connection.Open();
        if (toWrite)
            file.Run(Schema);
        return file;
    }

    public LogPosition Cursor
    {
        get => new((long)Prepared("SELECT position FROM cursor").ExecuteScalar()!);
        set => Prepared("UPDATE cursor SET position = $0", value.Offset).ExecuteNonQuery();
    }

    /// <summary>On disk, less what is free in the file for new rows.</summary>
    public long UsedBytes => ((long)Prepared("PRAGMA page_count").ExecuteScalar()! - (long)Prepared("PRAGMA freelist_count").ExecuteScalar()!)
        * (long)Prepared("PRAGMA page_size").ExecuteScalar()!;

    public void Transact(Action work)
    {
        using var began = connection.BeginTransaction();
        transaction = began;
        try
        {
            work();
            began.Commit();
        }
        finally
        {
            transaction = null;
        }
    }

    public long? Series(string pedestal) => (long?)Prepared("SELECT id FROM series WHERE pedestal = $0", pedestal).ExecuteScalar();

    public long SeriesOrNew(string pedestal) => Series(pedestal)
        ?? (long)Prepared("INSERT INTO series (pedestal) VALUES ($0) RETURNING id", pedestal).ExecuteScalar()!;

    public IReadOnlyList<long> AllSeries()
    {
        using var rows = Prepared("SELECT id FROM series").ExecuteReader();
        var all = new List<long>();
        while (rows.Read())
            all.Add(rows.GetInt64(0));
        return all;
    }

    public byte[]? Get(Grain grain, long series, long at) =>
        (byte[]?)Prepared($"SELECT blob FROM {Table(grain)} WHERE series = $0 AND at = $1", series, at).ExecuteScalar();

    public void Put(Grain grain, long series, long at, byte[] blob) =>
        Prepared($"INSERT OR REPLACE INTO {Table(grain)} VALUES ($0, $1, $2)", series, at, blob).ExecuteNonQuery();

    public IEnumerable<(long At, byte[] Blob)> Range(Grain grain, long series, long from, long before)
    {
        using var rows = Prepared($"SELECT at, blob FROM {Table(grain)} WHERE series = $0 AND at >= $1 AND at < $2 ORDER BY at", series, from, before).ExecuteReader();
        while (rows.Read())
            yield return (rows.GetInt64(0), (byte[])rows[1]);
    }

    public long? Oldest(Grain grain, long series) =>
        Prepared($"SELECT min(at) FROM {Table(grain)} WHERE series = $0", series).ExecuteScalar() as long?;

    public int DeleteBefore(Grain grain, long series, long at) =>
        Prepared($"DELETE FROM {Table(grain)} WHERE series = $0 AND at < $1", series, at).ExecuteNonQuery();

    public void Dispose()
    {
        foreach (var command in prepared.Values)
            command.Dispose();
        connection.Dispose();
    }

    static string Table(Grain grain) => grain.ToString().ToLowerInvariant();

    void Run(string sql)
    {
        using var command = new SqliteCommand(sql, connection);
        command.ExecuteNonQuery();
    }

    SqliteCommand Prepared(string sql, params ReadOnlySpan<object> values)
    {
        if (!prepared.TryGetValue(sql, out var command))
        {
            prepared[sql] = command = new SqliteCommand(sql, connection);
            for (var i = 0; i < values.Length; i++)
                command.Parameters.Add(new SqliteParameter { ParameterName = "$" + i.ToString(CultureInfo.InvariantCulture) });
        }
        for (var i = 0; i < values.Length; i++)
            command.Parameters[i].Value = values[i];
        command.Transaction = transaction;
        return command;
    }
}
