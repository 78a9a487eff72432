using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Mqtt;

/// <summary>Measured, not judged: how fast a link takes what a broker has kept for it.</summary>
public class LinkThroughput(ITestOutputHelper output) : BrokerTests
{
    const int Kept = 50_000;

    static readonly string Payload =
        """{"time":"2027-07-17T15:04:05.250Z","seq":4711,"volts":{"L1":112.3,"L2":113.0},"outlets":{"A":{"amps":{"L1":23.1}},"B":{"amps":{"L2":0.0}},"C":{"amps":{"L1":11.2}}}}""";

    [Fact(Explicit = true)]
    public async Task Messages_a_second_from_a_session_that_was_kept()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        var options = Options(broker.Host, broker.Port);
        for (var round = 0; round < 3; round++)
        {
            await (await Connect(options, "t")).DisposeAsync();
            await broker.PublishLines("t", Enumerable.Repeat(Payload, Kept), Cancel);
            var began = TimeProvider.System.GetTimestamp();
            await using var link = await Connect(options, "t");
            for (var taken = 0; taken < Kept;)
            {
                await link.Messages.WaitToReadAsync(Cancel);
                for (var batch = 0; batch < 1024 && link.Messages.TryRead(out var arrival); batch++, taken++)
                    link.Confirm(arrival.Number);
            }
            var elapsed = TimeProvider.System.GetElapsedTime(began);
            output.WriteLine($"{Kept / elapsed.TotalSeconds:N0} messages/s, {link.Counts}");
        }
    }
}
