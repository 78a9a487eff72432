using DotNet.Testcontainers.Builders;
using DotNet.Testcontainers.Images;
using Farberth.Adapters.Stores.InfluxDb;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>The real InfluxDB 2 in a container, where an engine and the image are on the machine; nothing is downloaded.</summary>
public class InfluxContainerTests
{
    const string Image = "influxdb:2", Token = "token-of-the-test";
    const ushort Port = 8086;

    [Fact]
    public async Task The_official_server_takes_a_reading_twice_and_has_it_once()
    {
        var cancel = TestContext.Current.CancellationToken;
        try
        {
            await using var container = new ContainerBuilder(Image)
                .WithImagePullPolicy(PullPolicy.Never)
                .WithPortBinding(Port, assignRandomHostPort: true)
                .WithEnvironment(new Dictionary<string, string>
                {
                    ["DOCKER_INFLUXDB_INIT_MODE"] = "setup",
                    ["DOCKER_INFLUXDB_INIT_USERNAME"] = "test",
                    ["DOCKER_INFLUXDB_INIT_PASSWORD"] = "password-of-the-test",
                    ["DOCKER_INFLUXDB_INIT_ORG"] = "marina",
                    ["DOCKER_INFLUXDB_INIT_BUCKET"] = "dock",
                    ["DOCKER_INFLUXDB_INIT_ADMIN_TOKEN"] = Token,
                })
                .WithWaitStrategy(Wait.ForUnixContainer().UntilHttpRequestIsSucceeded(request => request.ForPort(Port).ForPath("/health")))
                .Build();
            await container.StartAsync(cancel);
            await WritesOnce(new Uri($"http://{container.Hostname}:{container.GetMappedPublicPort(Port)}"), cancel);
        }
        catch (Exception e) when (e is DockerUnavailableException or Docker.DotNet.DockerImageNotFoundException)
        {
            Assert.Skip($"no container engine with the image {Image} here: {e.Message.Split('\n')[0]}");
        }
    }

    static async Task WritesOnce(Uri url, CancellationToken cancel)
    {
        using var server = new InfluxServer(new InfluxOptions(url, "marina", "dock") { Token = Token }, TimeProvider.System);
        var now = DateTimeOffset.UtcNow;
        string[] lines = [.. new ReadingPoints(StoredSite.Definition()).Of(StoredSite.Reading(now, "G1", 119.25, 12.5)).Select(point => point.Line())];
        for (var i = 0; i < 2; i++)
            Assert.Equal(new WriteOutcome(WriteStatus.Accepted), await server.Write(lines, cancel));
        Assert.Equal(WriteStatus.BadLines, (await server.Write([.. lines, "no line"], cancel)).Status);

        using var client = new InfluxDB.Client.InfluxDBClient(url.AbsoluteUri, Token);
        var tables = await client.GetQueryApi().QueryAsync("""from(bucket: "dock") |> range(start: -1h)""", "marina", cancel);
        Assert.Equal(
            [("outlet", "amps", 12.5), ("pedestal", "volts", 119.25)],
            tables.SelectMany(table => table.Records).Select(record => (record.GetMeasurement(), record.GetField(), (double)record.GetValue())).Order());
    }
}
