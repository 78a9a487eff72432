using Farberth.Adapters.Mqtt;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Mqtt;

public class EmbeddedBrokerTests : BrokerTests
{
    static string[] At(EmbeddedBroker broker) => ["-h", "127.0.0.1", "-p", broker.Port.ToString()];

    static void NeedsMosquittoClients()
    {
        if (!File.Exists("/usr/bin/mosquitto_pub"))
            Assert.Skip("mosquitto_pub is not installed (Debian package: mosquitto-clients)");
    }

    [Theory]
    [InlineData(MqttVersion.V5, "-V 5")]
    [InlineData(MqttVersion.V311, "-V 311 -i foreign")]
    public async Task A_foreign_client_and_the_link_reach_each_other_through_it(MqttVersion version, string foreign)
    {
        NeedsMosquittoClients();
        await using var broker = await EmbeddedBroker.Start(port: 0);
        await using var link = await Connect(Options("127.0.0.1", broker.Port) with { Version = version }, "in/#");
        await Command.Run("mosquitto_pub", [.. At(broker), .. foreign.Split(' '), "-t", "in/a", "-q", "1", "-m", "to the link"], Cancel);
        Assert.Equal(("in/a", "to the link"), await Next(link));

        Assert.True((await link.Publish(Message("out/a", "from the link", retain: true), Cancel)).IsAccepted);
        var heard = await Command.Run("mosquitto_sub", [.. At(broker), .. foreign.Split(' '), "-t", "out/#", "-C", "1"], Cancel);
        Assert.Equal("from the link", heard.Trim());
    }

    [Fact]
    public async Task It_keeps_what_comes_while_the_link_is_away()
    {
        NeedsMosquittoClients();
        await using var broker = await EmbeddedBroker.Start(port: 0);
        var options = Options("127.0.0.1", broker.Port);
        await (await Connect(options, "t")).DisposeAsync();
        await Command.Run("mosquitto_pub", [.. At(broker), "-i", "foreign", "-t", "t", "-q", "1", "-m", "kept"], Cancel);
        await using var link = await Connect(options, "t");
        Assert.Equal(("t", "kept"), await Next(link));
    }

    [Fact]
    public async Task A_payload_that_is_too_large_is_refused_and_counted()
    {
        await using var broker = await EmbeddedBroker.Start(port: 0, largestPayload: 100);
        await using var link = await Connect(Options("127.0.0.1", broker.Port));
        Assert.True((await link.Publish(Message("t", new string('x', 100)), Cancel)).IsAccepted);
        var refused = await link.Publish(Message("t", new string('x', 101)), Cancel);
        Assert.Equal(PublishStatus.Refused, refused.Status);
        Assert.Contains("100 bytes", refused.Problem, StringComparison.Ordinal);
        Assert.Equal(1, broker.Counts.TooLarge);
    }

    [Fact]
    public async Task What_a_session_away_cannot_hold_is_dropped_and_counted()
    {
        await using var broker = await EmbeddedBroker.Start(port: 0);
        var options = Options("127.0.0.1", broker.Port);
        await (await Connect(options, "t")).DisposeAsync();
        await using var publisher = await Connect(options with { ClientId = "publisher" });
        for (var i = 0; i < 10_010; i++)
            Assert.True((await publisher.Publish(Message("t", "x"), Cancel)).IsAccepted);
        Assert.Equal(10, broker.Counts.Dropped);
    }

    [Fact]
    public async Task A_port_that_is_taken_is_said()
    {
        await using var broker = await EmbeddedBroker.Start(port: 0);
        var problem = await Assert.ThrowsAsync<IOException>(() => EmbeddedBroker.Start(broker.Port));
        Assert.Contains($"127.0.0.1:{broker.Port}", problem.Message, StringComparison.Ordinal);
    }
}
