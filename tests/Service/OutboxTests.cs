using Farberth.Monitoring.Telemetry;
using Farberth.Service.Loop;

namespace Farberth.Service.Tests;

public sealed class OutboxTests : IDisposable
{
    readonly Outbox outbox = new();

    static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_newest_message_of_a_topic_goes_out_in_the_place_of_the_oldest()
    {
        Put("a", 1);
        Put("b", 2);
        Put("a", 3);

        Assert.Equal(2, outbox.Count);
        Assert.Equal([("a", 3), ("b", 2)], new[] { await Take(), await Take() });
        Assert.Equal(0, outbox.Count);
    }

    [Fact]
    public async Task A_topic_that_has_gone_out_comes_back_at_the_end()
    {
        Put("a", 1);
        Put("b", 2);
        Assert.Equal(("a", 1), await Take());
        Put("a", 3);

        Assert.Equal([("b", 2), ("a", 3)], new[] { await Take(), await Take() });
    }

    [Fact]
    public async Task A_taker_waits_for_the_first_message()
    {
        var taking = Take();
        Assert.False(taking.IsCompleted);
        Put("a", 1);

        Assert.Equal(("a", 1), await taking.WaitAsync(Cancel));
    }

    public void Dispose() => outbox.Dispose();

    void Put(string topic, byte payload) => outbox.Put(new WireMessage(topic, new[] { payload }, Retain: true));

    async Task<(string, int)> Take()
    {
        var message = await outbox.Take(Cancel);
        return (message.Topic, message.Payload.Span[0]);
    }
}
