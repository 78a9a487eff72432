using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Mqtt;

public class InletTests
{
    static readonly RecordedMessage Message = new(default, new WireMessage("t", default));

    static Inlet Filled(int messages)
    {
        var inlet = new Inlet(8);
        for (var i = 0; i < messages; i++)
            Put(inlet, Message);
        return inlet;
    }

    static void Put(Inlet inlet, RecordedMessage message)
    {
        Assert.True(inlet.TryReserve(Inlet.Places(message.Message.Payload.Length)));
        inlet.Write(message);
    }

    [Fact]
    public void A_full_inlet_takes_no_more_until_a_place_is_given_back()
    {
        var inlet = Filled(7);
        Assert.True(inlet.TryReserve(1));
        Assert.False(inlet.TryReserve(1));
        inlet.Release(1);
        Assert.True(inlet.TryReserve(1));
    }

    [Fact]
    public void Long_messages_take_as_many_places_as_they_have_begun_four_kibibytes()
    {
        Assert.Equal([1, 1, 2, 17, 17], new long[] { 0, 4095, 4096, 65_537, 1_000_000 }.Select(Inlet.Places));
        var inlet = new Inlet(8);
        Put(inlet, new(default, new("t", new byte[16_000])));
        Put(inlet, new(default, new("t", new byte[16_000])));
        Assert.False(inlet.TryReserve(1));
        Assert.True(inlet.TryRead(out _));
        Assert.True(inlet.TryReserve(4));
        Assert.False(inlet.TryReserve(1));
    }

    [Fact]
    public async Task Whoever_waits_is_told_when_half_is_left_and_not_before()
    {
        var inlet = Filled(6);
        var emptied = inlet.HalfEmptied(TestContext.Current.CancellationToken);
        Assert.True(inlet.TryRead(out _));
        Assert.False(emptied.IsCompleted);
        Assert.True(inlet.TryRead(out _));
        await emptied.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
    }

    [Fact]
    public async Task Waiting_again_after_it_was_filled_again_waits_again()
    {
        var inlet = Filled(5);
        await Filled(4).HalfEmptied(TestContext.Current.CancellationToken);
        var first = inlet.HalfEmptied(TestContext.Current.CancellationToken);
        Assert.True(inlet.TryRead(out _));
        await first.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
        Put(inlet, Message);
        Assert.False(inlet.HalfEmptied(TestContext.Current.CancellationToken).IsCompleted);
    }
}
