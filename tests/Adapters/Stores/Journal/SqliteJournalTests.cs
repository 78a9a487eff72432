using Farberth.Adapters.Stores.Embedded;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Microsoft.Data.Sqlite;
using static Farberth.Adapters.Tests.Stores.Journal.Given;

namespace Farberth.Adapters.Tests.Stores.Journal;

public sealed class SqliteJournalTests : JournalConformance
{
    readonly string folder = Directory.CreateTempSubdirectory("journal-").FullName;

    string FilePath => Path.Combine(folder, "data", "journal.sqlite");

    protected override Task<IJournal> Open(string site = "eastharbour") => Task.FromResult<IJournal>(new SqliteJournal(FilePath, site));

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task A_newer_schema_is_refused_in_plain_words()
    {
        using var journal = await Open();
        journal.Write(Batch(Entry(Asked(0))));
        Execute("UPDATE schema_version SET version = 99");

        using var older = await Open();
        var refused = Assert.Throws<JournalException>(() => older.Standing());
        Assert.Equal(JournalFailure.NewerSchema, refused.Failure);
        Assert.Contains("version 99", refused.Message);
    }

    [Fact]
    public async Task A_journal_of_version_1_can_be_read_though_it_wrote_states_without_their_hyphens()
    {
        using (var first = await Open())
            first.Write(Batch(Entry(Step(0, Overload(), AlarmState.ReturnedUnacknowledged)), Entry(Step(1, Overload(), AlarmState.OutOfService))));
        Execute("UPDATE events SET from_state = replace(from_state, '-', ''); ALTER TABLE contacts DROP COLUMN language; UPDATE schema_version SET version = 1");

        using var later = await Open();
        Assert.Equal(
            [AlarmState.OutOfService, AlarmState.ReturnedUnacknowledged], later.History(new()).Events.Cast<AlarmStepped>().Select(stepped => stepped.Transition.From));
    }

    [Fact]
    public async Task Commits_are_synced_to_a_write_ahead_log()
    {
        using var journal = await Open();
        journal.Write(Batch(Entry(Asked(0))));

        Assert.Equal("wal", Execute("PRAGMA journal_mode"));
        Assert.Equal("ok", Execute("PRAGMA integrity_check"));
    }

    [Fact]
    public async Task A_folder_that_cannot_be_had_is_away_until_it_is_back()
    {
        using var journal = await Open();
        journal.Write(Batch(Entry(Asked(0))));
        Directory.Move(Path.Combine(folder, "data"), Path.Combine(folder, "elsewhere"));
        await File.WriteAllTextAsync(Path.Combine(folder, "data"), "in the way of the folder", Cancel);

        using var away = await Open();
        Assert.Equal(JournalFailure.Away, Assert.Throws<JournalException>(() => away.Write(Batch(Entry(Asked(1))))).Failure);

        File.Delete(Path.Combine(folder, "data"));
        Directory.Move(Path.Combine(folder, "elsewhere"), Path.Combine(folder, "data"));
        away.Write(Batch(Entry(Asked(1))));
        Assert.Equal(2, away.History(new()).Events.Count);
    }

    object? Execute(string statement)
    {
        using var connection = new SqliteConnection($"Data Source={FilePath};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = statement;
        return command.ExecuteScalar();
    }
}
