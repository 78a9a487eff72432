using Farberth.Adapters.Stores.Relational;
using Farberth.Service.Access;
using Microsoft.AspNetCore.Identity;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Service.Tests.Access;

/// <summary>The file of accounts, stays and deeds, of this version and of earlier ones.</summary>
public sealed class PeopleFileTests : IDisposable
{
    static readonly string First = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data", "people", "first-schema.sql"));

    readonly string folder = Directory.CreateTempSubdirectory("people-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task A_file_of_the_first_version_is_opened_with_all_that_is_in_it()
    {
        Execute(folder, First);
        await using var made = Open();

        Assert.Equal("1", Execute(folder, "SELECT version FROM schema_version"));
        var accounts = made.GetRequiredService<UserManager<Account>>();
        var hollis = await accounts.FindByNameAsync("hollis");
        Assert.True(await accounts.CheckPasswordAsync(hollis!, "nine knots in a hawser"));
        Assert.Equal([Roles.Harbormaster], await accounts.GetRolesAsync(hollis!));
        Assert.Equal("add stay", Assert.Single(await made.GetRequiredService<Audit>().Latest(10)).What);
        using var people = made.GetRequiredService<IDbContextFactory<PeopleDb>>().CreateDbContext();
        Assert.Equal((7, "B1", "Osprey", new DateTimeOffset(2100, 1, 1, 0, 0, 0, TimeSpan.Zero)), people.Stays.AsEnumerable().Select(stay => ((int)stay.Id, stay.Slip, stay.Boat, stay.To)).Single());
    }

    [Fact]
    public void Opened_again_it_is_left_as_it_is()
    {
        Execute(folder, First);
        Open().Dispose();
        var before = Schema(folder);
        Open().Dispose();

        Assert.Equal(before, Schema(folder));
    }

    /// <summary>Whoever changes a class and adds no step finds it here.</summary>
    [Fact]
    public void The_steps_make_what_the_classes_need()
    {
        Open().Dispose();
        using var made = Services(null);
        using var people = made.GetRequiredService<IDbContextFactory<PeopleDb>>().CreateDbContext();
        people.Database.EnsureCreated();
        using var byClasses = new SqliteConnection(made.GetRequiredService<PeopleFile>().Connection);
        byClasses.Open();

        Assert.Equal(Schema(byClasses), Schema(folder).Where(one => one.Name != "schema_version"));
    }

    [Fact]
    public void A_file_of_a_later_version_is_refused_in_plain_words()
    {
        Open().Dispose();
        Execute(folder, "UPDATE schema_version SET version = 99");

        Assert.Contains("people.sqlite is version 99", Assert.Throws<NewerSchemaException>(() => Open()).Message);
    }

    ServiceProvider Open()
    {
        var made = Services(folder);
        made.GetRequiredService<PeopleFile>().BringUpToDate();
        return made;
    }

    static ServiceProvider Services(string? folder)
    {
        var services = PeopleFile.AddTo(new ServiceCollection(), folder).AddSingleton(TimeProvider.System).AddLogging();
        services.AddIdentityCore<Account>().AddRoles<IdentityRole>().AddEntityFrameworkStores<PeopleDb>();
        return services.BuildServiceProvider();
    }

    static List<(string Name, string Sql)> Schema(string folder)
    {
        using var connection = Connect(folder);
        return Schema(connection);
    }

    /// <summary>What SQLite itself says of each table and index; the words between the names do not matter.</summary>
    static List<(string Name, string Sql)> Schema(SqliteConnection connection)
    {
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY name";
        using var rows = command.ExecuteReader();
        var all = new List<(string, string)>();
        while (rows.Read())
            all.Add((rows.GetString(0), string.Join(' ', rows.GetString(1).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))));
        return all;
    }

    static string? Execute(string folder, string statements)
    {
        using var connection = Connect(folder);
        using var command = connection.CreateCommand();
        command.CommandText = statements;
        return command.ExecuteScalar()?.ToString();
    }

    static SqliteConnection Connect(string folder)
    {
        var connection = new SqliteConnection($"Data Source={Path.Combine(folder, "people.sqlite")};Pooling=False");
        connection.Open();
        return connection;
    }
}
