using System.Net;
using System.Net.Sockets;
using DotNet.Testcontainers.Builders;
using Farberth.Adapters.Stores.PostgreSql;
using Farberth.Adapters.Tests.Mqtt;
using static Farberth.Adapters.Tests.Stores.Journal.Given;

namespace Farberth.Adapters.Tests;

/// <summary>Debian's broker and database in containers, as a site may run them; on loopback.</summary>
public sealed class ContainersOfDebian(Containers containers) : BrokerTests, IClassFixture<Containers>
{
    const string PostgresFolder = "/usr/lib/postgresql/15";

    [Fact]
    public async Task Mosquitto_in_a_container_keeps_a_session_with_what_came_meanwhile()
    {
        var port = FreePort();
        var builder = await containers.Builder("farberth/mosquitto", "mosquitto", ["/usr/sbin/mosquitto"], [], Cancel);
        await using var container = builder
            .WithResourceMapping(System.Text.Encoding.UTF8.GetBytes($"listener {port} 127.0.0.1\nallow_anonymous true\nuser root\n"), "/etc/mosquitto.conf")
            .WithEntrypoint("/usr/sbin/mosquitto", "-c", "/etc/mosquitto.conf")
            .WithWaitStrategy(Wait.ForUnixContainer().UntilMessageIsLogged("running"))
            .Build();
        await container.StartAsync(Cancel);

        var options = Options("127.0.0.1", port);
        await (await Connect(options, "t/#")).DisposeAsync();
        await using var sender = await Connect(options with { ClientId = "sender" });
        Assert.True((await sender.Publish(Message("t/a", "kept"), Cancel)).IsAccepted);
        await using var link = await Connect(options, "t/#");
        Assert.Equal(("t/a", "kept"), await Next(link));
    }

    [Fact]
    public async Task The_journal_works_with_PostgreSQL_in_a_container()
    {
        var port = FreePort();
        string[] programs = [$"{PostgresFolder}/bin/postgres", $"{PostgresFolder}/bin/initdb"];
        var builder = await containers.Builder("farberth/postgresql", "postgresql-15", programs, [$"{PostgresFolder}/lib", "/usr/share/postgresql/15", "/usr/share/zoneinfo"], Cancel);
        await using var container = builder
            .WithTmpfsMount("/data")
            .WithCreateParameterModifier(parameters => parameters.User = "postgres")
            .WithEntrypoint("/bin/sh", "-c",
                $"{programs[1]} -D /data/base -U farberth --auth=trust --encoding=UTF8 --no-locale && exec {programs[0]} -D /data/base -p {port} -k /data -c listen_addresses=127.0.0.1")
            .WithWaitStrategy(Wait.ForUnixContainer().UntilMessageIsLogged("ready to accept connections"))
            .Build();
        await container.StartAsync(Cancel);

        using var journal = new PostgresJournal($"Host=127.0.0.1;Port={port};Username=farberth;Database=postgres", "eastharbour");
        journal.Write(Batch(Entry(Step(0, Overload()), "Ana"), Entry(Asked(1))));
        Assert.Equal("C.C12.A.overload", Assert.Single(journal.Standing()).Alarm.Id);
        Assert.Equal("Ana", Assert.Single(journal.Waiting(10)).Contact);
    }

    static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
