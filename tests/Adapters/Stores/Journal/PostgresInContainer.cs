using DotNet.Testcontainers.Builders;
using Farberth.Adapters.Stores.PostgreSql;
using Testcontainers.PostgreSql;
using static Farberth.Adapters.Tests.Stores.Journal.Given;

namespace Farberth.Adapters.Tests.Stores.Journal;

/// <summary>The journal against the PostgreSQL of a container image: whichever version the image has. Skipped, with the reason, where no container can be had.</summary>
public sealed class PostgresInContainer
{
    const string Image = "postgres:17";

    /// <summary>Another image, as one that is on this machine already.</summary>
    const string ImageVariable = "FARBERTH_POSTGRES_IMAGE";

    [Fact]
    public async Task The_journal_works_with_the_server_of_an_image()
    {
        var cancel = TestContext.Current.CancellationToken;
        await using var container = await Start(cancel);
        using var journal = new PostgresJournal(container.GetConnectionString(), "eastharbour");
        journal.Write(Batch(Entry(Step(0, Overload()), "Ana"), Entry(Asked(1))));

        Assert.Equal("C.C12.A.overload", Assert.Single(journal.Standing()).Alarm.Id);
        Assert.Equal("Ana", Assert.Single(journal.Waiting(10)).Contact);
    }

    static async Task<PostgreSqlContainer> Start(CancellationToken cancel)
    {
        try
        {
            var container = new PostgreSqlBuilder(Environment.GetEnvironmentVariable(ImageVariable) ?? Image).Build();
            await container.StartAsync(cancel);
            return container;
        }
        catch (Exception e) when (e is DockerUnavailableException or Docker.DotNet.DockerApiException or HttpRequestException or TimeoutException)
        {
            Assert.Skip($"no container: {e.Message.Split('\n')[0]}");
            throw;
        }
    }
}
