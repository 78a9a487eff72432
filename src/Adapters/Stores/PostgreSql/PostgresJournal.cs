using System.Data.Common;
using Farberth.Adapters.Stores.Relational;
using Farberth.Monitoring.Ports;
using Npgsql;

namespace Farberth.Adapters.Stores.PostgreSql;

/// <summary>The journal in a PostgreSQL database, 12 or later; several sites may share one.</summary>
public sealed class PostgresJournal : SqlJournal
{
    /// <summary>Seconds for a connection and for a statement, where the connection string says nothing: a journal that hangs is away.</summary>
    const int ConnectWithin = 5, AnswerWithin = 10;

    readonly NpgsqlDataSource source;

    /// <param name="connectionString">"Host=…;Database=…;Username=…"; without a password that of PGPASSWORD or PGPASSFILE is used.</param>
    /// <exception cref="ArgumentException">It is not a connection string.</exception>
    public PostgresJournal(string connectionString, string site)
        : base(site, "Stores/PostgreSql/Journal")
    {
        var given = new NpgsqlConnectionStringBuilder(connectionString) { ApplicationName = "farberth" };
        if (!Says(connectionString, "Timeout"))
            given.Timeout = ConnectWithin;
        if (!Says(connectionString, "Command Timeout") && !Says(connectionString, "CommandTimeout"))
            given.CommandTimeout = AnswerWithin;
        source = NpgsqlDataSource.Create(given);
    }

    private protected override DbConnection Open() => source.OpenConnection();

    /// <summary>A server that is set to commit lazily does it for everybody else, not for alarms.</summary>
    private protected override void Begin(SqlSession session) => session.Execute("SET LOCAL synchronous_commit TO on");

    private protected override void LockSchema(SqlSession session) => session.Execute("SELECT pg_advisory_xact_lock(hashtext('farberth journal'))");

    /// <summary>Classes of SQLSTATE (PostgreSQL's manual, appendix A): 22 is a data exception, 23 a violated constraint.</summary>
    private protected override JournalFailure Meaning(DbException failure) =>
        failure is PostgresException { SqlState: var state } && (state.StartsWith("22", StringComparison.Ordinal) || state.StartsWith("23", StringComparison.Ordinal))
            ? JournalFailure.Refused : JournalFailure.Away;

    private protected override void Close() => source.Dispose();

    static bool Says(string connectionString, string key) => new DbConnectionStringBuilder { ConnectionString = connectionString }.ContainsKey(key);
}
