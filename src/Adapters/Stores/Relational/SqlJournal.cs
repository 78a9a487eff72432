using System.Data.Common;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>
/// The journal in a relational database, in statements that SQLite and PostgreSQL both understand; what differs between the two is in
/// the classes below this one. The schema is brought up to date before the first statement, whenever the database can be reached.
/// </summary>
public abstract class SqlJournal : IJournal
{
    readonly string site;
    readonly Migrations migrations;
    readonly Lock gate = new();
    bool isUpToDate;

    /// <param name="migrationsFolder">Of the numbered .sql files in this assembly.</param>
    private protected SqlJournal(string site, string migrationsFolder) =>
        (this.site, migrations) = (site, Migrations.In(typeof(SqlJournal).Assembly, migrationsFolder, "the journal"));

    public JournalWritten Write(JournalBatch batch) => Run(session =>
    {
        var alreadyThere = new HashSet<string>();
        foreach (var entry in batch.Entries)
        {
            if (EventRows.Add(session, entry.Event) is not { } number)
                alreadyThere.Add(entry.Event.Key);
            else
                foreach (var row in entry.Tell)
                    OutboxRows.Add(session, number, row);
        }
        foreach (var row in batch.Told)
            OutboxRows.Update(session, row);
        foreach (var more in batch.Refusals)
            RefusalRows.Add(session, more);
        return new JournalWritten(alreadyThere);
    });

    public IReadOnlyList<AlarmTransition> Standing() => Run(EventRows.Standing);

    public IReadOnlyList<JournalEvent> InForce(DateTimeOffset before) => Run(session => EventRows.InForce(session, before));

    public JournalPage History(JournalQuery query) => Run(session => EventRows.Page(session, query));

    public IReadOnlyList<OutboxRow> Waiting(int limit) => Run(session => OutboxRows.Waiting(session, limit));

    public IReadOnlyList<Contact> Contacts() => Run(ContactRows.All);

    public void Keep(Contact contact) => Do(session => ContactRows.Keep(session, contact));

    public void Remove(string contact) => Do(session => ContactRows.Remove(session, contact));

    public void Keep(SiteFileVersion version) => Do(session => SiteFileRows.Keep(session, version));

    public IReadOnlyList<SiteFileVersion> SiteFiles(int limit) => Run(session => SiteFileRows.Latest(session, limit));

    public IReadOnlyDictionary<RefusalReason, RefusalTally> Refusals() => Run(RefusalRows.All);

    public int Forget(DateTimeOffset before) => Run(session => EventRows.Forget(session, before));

    public void Dispose()
    {
        Close();
        GC.SuppressFinalize(this);
    }

    /// <summary>An open connection, whose commits are durable.</summary>
    private protected abstract DbConnection Open();

    /// <summary>Whatever must be said first in a transaction.</summary>
    private protected virtual void Begin(SqlSession session)
    {
    }

    /// <summary>Lets no other process change the schema until the end of the transaction.</summary>
    private protected virtual void LockSchema(SqlSession session)
    {
    }

    /// <summary>What a failure of the database means.</summary>
    private protected abstract JournalFailure Meaning(DbException failure);

    private protected abstract void Close();

    void Do(Action<SqlSession> statements) => Run(session =>
    {
        statements(session);
        return true;
    });

    T Run<T>(Func<SqlSession, T> statements)
    {
        lock (gate)
        {
            try
            {
                using var connection = Open();
                if (!isUpToDate)
                    InTransaction(connection, session =>
                    {
                        LockSchema(session);
                        return migrations.Apply(session);
                    });
                isUpToDate = true;
                return InTransaction(connection, statements);
            }
            catch (DbException e)
            {
                throw new JournalException(Meaning(e), e.Message, e);
            }
            catch (NewerSchemaException e)
            {
                throw new JournalException(JournalFailure.NewerSchema, e.Message, e);
            }
            catch (FormatException e)
            {
                throw new JournalException(JournalFailure.Refused, $"a row that this program does not understand: {e.Message}", e);
            }
            catch (Exception e) when (e is TimeoutException or System.Net.Sockets.SocketException || (e is IOException and not JournalException))
            {
                throw new JournalException(JournalFailure.Away, e.Message, e);
            }
        }
    }

    T InTransaction<T>(DbConnection connection, Func<SqlSession, T> statements)
    {
        using var transaction = connection.BeginTransaction();
        var session = new SqlSession(transaction, site);
        Begin(session);
        var result = statements(session);
        transaction.Commit();
        return result;
    }
}
