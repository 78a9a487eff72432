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
            Assert.True(inlet.TryWrite(Message, out _));
        return inlet;
    }

    [Fact]
    public void A_full_inlet_takes_no_more()
    {
        Assert.False(Filled(8).TryWrite(Message, out _));
        Assert.False(Filled(6).IsNearlyFull);
        Assert.True(Filled(7).IsNearlyFull);
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
        Assert.True(inlet.TryWrite(Message, out _));
        Assert.False(inlet.HalfEmptied(TestContext.Current.CancellationToken).IsCompleted);
    }
}
