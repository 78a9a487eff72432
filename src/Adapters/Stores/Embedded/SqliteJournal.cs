using System.Data.Common;
using Farberth.Adapters.Stores.Relational;
using Farberth.Monitoring.Ports;
using Microsoft.Data.Sqlite;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>The journal in one file of SQLite, for a site that needs no server.</summary>
public sealed class SqliteJournal : SqlJournal
{
    // Result codes of SQLite (sqlite.org/rescode.html): what the row holds is at fault, not the database.
    const int Constraint = 19, TooBig = 18, Mismatch = 20;

    readonly string connectionString;

    /// <param name="path">Made, with its folder, where it does not exist.</param>
    public SqliteJournal(string path, string site)
        : base(site, "Stores/Embedded/Journal")
    {
        Path = path;
        connectionString = new SqliteConnectionStringBuilder { DataSource = path, ForeignKeys = true, DefaultTimeout = 5 }.ConnectionString;
    }

    public string Path { get; }

    private protected override DbConnection Open()
    {
        MakeFolder(System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(Path))!);
        var connection = new SqliteConnection(connectionString);
        try
        {
            connection.Open();
            using var command = connection.CreateCommand();
            // With a write-ahead log FULL syncs it at every commit: what is committed outlives a power cut.
            command.CommandText = "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;";
            command.ExecuteNonQuery();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private protected override JournalFailure Meaning(DbException failure) =>
        failure is SqliteException { SqliteErrorCode: Constraint or TooBig or Mismatch } ? JournalFailure.Refused : JournalFailure.Away;

    private protected override void Close()
    {
        using var connection = new SqliteConnection(connectionString);
        SqliteConnection.ClearPool(connection);
    }

    /// <summary>For nobody else: people's addresses are in it.</summary>
    static void MakeFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(folder);
        else
            Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }
}
