using Farberth.Adapters.Mqtt;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Mqtt;

public class MqttLinkReceivesTests : BrokerTests
{
    [Theory]
    [InlineData(MqttVersion.V5)]
    [InlineData(MqttVersion.V311)]
    public async Task What_another_client_publishes_arrives_with_its_time(MqttVersion version)
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await broker.Publish("farberth/v1/s/weather", "old", Cancel, retain: true);
        await using var link = await Connect(Options(broker.Host, broker.Port) with { Version = version }, "farberth/v1/s/#");
        var before = DateTimeOffset.UtcNow;
        await broker.Publish("farberth/v1/s/pedestal/C1/reading", "new", Cancel);

        var old = await Taken(link);
        Assert.True(old.Message is { Topic: "farberth/v1/s/weather", Retain: true });
        var fresh = await Taken(link);
        Assert.Equal("new", Text(fresh.Message.Payload));
        Assert.False(fresh.Message.Retain);
        Assert.InRange(fresh.At, before, DateTimeOffset.UtcNow);
    }

    [Fact]
    public async Task After_the_broker_was_killed_the_link_comes_back_and_subscribes_again()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port), "t/#");
        await broker.Kill(Cancel);
        var away = await link.State.When(state => state.Phase == LinkPhase.Waiting, Cancel);
        Assert.NotEqual("", away.Reason);
        Assert.NotNull(away.NextAttempt);
        Assert.Equal(PublishStatus.Away, (await link.Publish(Message("x", "y"), Cancel)).Status);

        // Killed before it saved anything: the session is new, and only a new subscription can bring the message.
        await broker.Restart(Cancel);
        await link.State.When(state => state.Phase == LinkPhase.Connected, Cancel);
        await broker.Publish("t/a", "back", Cancel);
        Assert.Equal(("t/a", "back"), await Next(link));
        Assert.Equal(2, link.Counts.Connections);
    }

    [Theory]
    [InlineData(MqttVersion.V5)]
    [InlineData(MqttVersion.V311)]
    public async Task What_is_published_while_the_link_is_away_arrives_when_it_is_back(MqttVersion version)
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        var options = Options(broker.Host, broker.Port) with { Version = version };
        await (await Connect(options, "t/#")).DisposeAsync();
        await broker.PublishLines("t/a", ["1", "2", "3"], Cancel);
        await broker.Stop(Cancel);
        await broker.Restart(Cancel);

        await using var link = await Connect(options, "t/#");
        Assert.Equal([("t/a", "1"), ("t/a", "2"), ("t/a", "3")], [await Next(link), await Next(link), await Next(link)]);
    }

    [Fact]
    public async Task A_session_that_is_not_kept_brings_nothing_from_the_time_away()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        var options = Options(broker.Host, broker.Port) with { SessionExpiry = TimeSpan.Zero };
        await (await Connect(options, "t/#")).DisposeAsync();
        await broker.Publish("t/a", "missed", Cancel);

        await using var link = await Connect(options, "t/#");
        await broker.Publish("t/a", "seen", Cancel);
        Assert.Equal(("t/a", "seen"), await Next(link));
    }

    [Fact]
    public async Task The_queue_stays_within_its_capacity_and_nothing_is_lost_when_nobody_reads()
    {
        const int capacity = 40, sent = 2_000;
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port) with { Capacity = capacity }, "t");
        await broker.PublishLines("t", Enumerable.Range(0, sent).Select(i => i.ToString()), Cancel);

        var seen = new HashSet<string>();
        var fullest = 0;
        while (seen.Count < sent)
        {
            await link.Messages.WaitToReadAsync(Cancel);
            fullest = Math.Max(fullest, link.Messages.Count);
            seen.Add((await Next(link)).Payload);
        }
        Assert.InRange(fullest, capacity / 2, capacity);
        Assert.Equal(0, link.Counts.Lost);
        Assert.Equal(sent, link.Counts.Received);
        Assert.Equal((1, 0), (link.Counts.Connections, link.Counts.Overruns));
    }

    [Fact]
    public async Task Where_no_place_becomes_free_for_long_the_link_lets_go_and_comes_back_for_the_rest()
    {
        const int sent = 200;
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port) with { Capacity = 8, AnswerWithin = TimeSpan.FromSeconds(1) }, "t");
        await broker.PublishLines("t", Enumerable.Range(0, sent).Select(i => i.ToString()), Cancel);
        // What Mosquitto sends is held back only while it waits for acknowledgements: confirmed ahead of time, it sends all.
        link.Confirm(sent);
        var away = await link.State.When(state => state.Phase == LinkPhase.Waiting, Cancel);
        Assert.Contains("the rest waits at the broker", away.Reason, StringComparison.Ordinal);

        var seen = new HashSet<string>();
        while (seen.Count < sent)
            seen.Add((await Next(link)).Payload);
        await link.State.When(state => state.Phase == LinkPhase.Connected, Cancel);
        Assert.Equal((2, 1), (link.Counts.Connections, link.Counts.Overruns));
    }

    [Theory]
    [InlineData(MqttVersion.V5)]
    [InlineData(MqttVersion.V311)]
    public async Task What_was_taken_but_not_confirmed_comes_again_and_what_was_confirmed_does_not(MqttVersion version)
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        var options = Options(broker.Host, broker.Port) with { Version = version };
        await using (var link = await Connect(options, "t"))
        {
            await broker.PublishLines("t", ["1", "2", "3", "4"], Cancel);
            for (var number = 1; number <= 4; number++)
                Assert.Equal(number, (await link.Messages.ReadAsync(Cancel)).Number);
            Assert.Equal(0, link.Counts.Acknowledged);
            link.Confirm(2);
        }
        await using var again = await Connect(options, "t");
        Assert.Equal([("t", "3"), ("t", "4")], [await Next(again), await Next(again)]);
        await broker.Publish("t", "5", Cancel);
        Assert.Equal(("t", "5"), await Next(again));
    }

    /// <summary>MQTT 5.0 section 4.9: a server stops at the receive maximum; Mosquitto stops at max_inflight_messages, 20 by default.</summary>
    [Fact]
    public async Task While_nothing_is_confirmed_the_broker_holds_back_and_sends_on_once_it_is()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port), "t");
        await broker.PublishLines("t", Enumerable.Range(0, 500).Select(i => i.ToString()), Cancel);
        var first = await link.Messages.ReadAsync(Cancel);
        Assert.InRange(link.Messages.Count, 0, 20);
        link.Confirm(first.Number);
        for (var i = 1; i < 500; i++)
            Assert.Equal(("t", i.ToString()), await Next(link));
        Assert.Equal(0, link.Counts.Overruns);
    }

    [Fact]
    public async Task A_payload_that_is_too_long_is_cut_to_one_byte_over_the_limit()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port), "t");
        await broker.PublishLines("t", [new string('x', 65_537), new string('x', 65_538)], Cancel);
        Assert.Equal(65_537, (await Taken(link)).Message.Payload.Length);
        Assert.Equal(65_537, (await Taken(link)).Message.Payload.Length);
        Assert.Equal(1, link.Counts.Cut);
    }

    [Fact]
    public async Task Disposing_says_good_bye_and_ends_the_messages()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        var link = await Connect(Options(broker.Host, broker.Port), "t");
        await link.DisposeAsync();
        await link.Messages.Completion.WaitAsync(Cancel);
        Assert.Equal(LinkPhase.Closed, link.State.Value.Phase);
        // Mosquitto words it so after a DISCONNECT; "closed its connection" where there was none.
        await broker.WhenLogged(line => line.Contains("Client farberth-test disconnected.", StringComparison.Ordinal), Cancel);
    }
}
