using Farberth.Adapters.Stores.PostgreSql;
using Farberth.Monitoring.Ports;
using Farberth.Tests.Fixtures;
using static Farberth.Adapters.Tests.Stores.Journal.Given;

namespace Farberth.Adapters.Tests.Stores.Journal;

public sealed class PostgresJournalTests(PostgresServer server) : JournalConformance, IClassFixture<PostgresServer>
{
    string? database;

    protected override async Task<IJournal> Open(string site = "eastharbour") =>
        new PostgresJournal(database ??= await server.Database(Cancel), site);

    [Fact]
    public async Task A_newer_schema_is_refused_in_plain_words()
    {
        using var journal = await Open();
        journal.Write(Batch(Entry(Asked(0))));
        await PostgresServer.Psql(database!, "UPDATE schema_version SET version = 99", Cancel);

        using var older = await Open();
        var refused = Assert.Throws<JournalException>(() => older.Standing());
        Assert.Equal(JournalFailure.NewerSchema, refused.Failure);
        Assert.Contains("version 99", refused.Message);
    }

    [Fact]
    public async Task A_server_that_was_killed_has_lost_nothing_and_the_same_journal_goes_on_with_it()
    {
        using var journal = await Open();
        journal.Write(Batch(Entry(Asked(0), "Bo")));
        await server.Kill(Cancel);
        try
        {
            Assert.Equal(JournalFailure.Away, Assert.Throws<JournalException>(() => journal.Write(Batch(Entry(Asked(1))))).Failure);
        }
        finally
        {
            await server.Start(Cancel);
        }

        Assert.Single(journal.Waiting(10));
        journal.Write(Batch(Entry(Asked(1))));
        Assert.Equal("2", (await PostgresServer.Psql(database!, "SELECT count(*) FROM events", Cancel)).Trim());
    }

    [Fact]
    public async Task A_database_that_does_not_exist_yet_is_away_and_then_there()
    {
        var one = await server.Database(Cancel);
        using var journal = new PostgresJournal(one + "_later", "eastharbour");
        Assert.Equal(JournalFailure.Away, Assert.Throws<JournalException>(() => journal.Standing()).Failure);

        await PostgresServer.Psql(one, $"CREATE DATABASE {one[(one.LastIndexOf('=') + 1)..]}_later", Cancel);
        Assert.Empty(journal.Standing());
    }

    [Fact]
    public async Task Two_that_start_at_once_make_the_schema_once()
    {
        using var first = await Open();
        using var second = await Open();
        Parallel.Invoke(() => first.Standing(), () => second.Standing());

        Assert.Equal("1", (await PostgresServer.Psql(database!, "SELECT count(*) FROM schema_version", Cancel)).Trim());
    }
}
