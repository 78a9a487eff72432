using Farberth.Adapters.Stores.Relational;
using Microsoft.AspNetCore.Identity;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Access;

/// <summary>Where <see cref="PeopleDb"/> lies: in the data folder, or in memory for as long as the service runs.</summary>
sealed class PeopleFile : IDisposable
{
    /// <summary>A database in memory is there for as long as one connection is open.</summary>
    readonly SqliteConnection? kept;

    PeopleFile(string connection, SqliteConnection? kept) => (Connection, this.kept) = (connection, kept);

    public string Connection { get; }

    public static PeopleFile In(string? folder)
    {
        if (folder is not null)
            return new($"Data Source={Path.Combine(folder, "people.sqlite")}", null);
        var inMemory = $"Data Source={Guid.NewGuid():N};Mode=Memory;Cache=Shared";
        var kept = new SqliteConnection(inMemory);
        kept.Open();
        return new(inMemory, kept);
    }

    /// <summary>By the same means as the journal's: numbered steps, of which the database knows how many it has.</summary>
    /// <exception cref="NewerSchemaException">A later version of this program has been here.</exception>
    public void BringUpToDate()
    {
        using var connection = new SqliteConnection(Connection);
        connection.Open();
        // No other process changes it meanwhile: SQLite lets one write at a time.
        using var transaction = connection.BeginTransaction();
        Migrations.In(typeof(PeopleFile).Assembly, "people", "people.sqlite").Apply(transaction);
        transaction.Commit();
    }

    /// <summary>With the version of the accounts' tables: a model is made once for the process, by whoever is first.</summary>
    public static IServiceCollection AddTo(IServiceCollection services, string? folder) => services
        .Configure<IdentityOptions>(identity => identity.Stores.SchemaVersion = IdentitySchemaVersions.Version3)
        .AddSingleton(_ => In(folder))
        .AddDbContextFactory<PeopleDb>((made, options) => options.UseSqlite(made.GetRequiredService<PeopleFile>().Connection))
        .AddSingleton<Audit>();

    public void Dispose() => kept?.Dispose();
}
