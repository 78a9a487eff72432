using System.Text;
using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>
/// Pedestals G1 and G2 that measure ten times a second, whatever the network does, and publish at QoS 1 in the order in which they have
/// measured, each reading until the broker has said that it has it.
/// </summary>
sealed class PatientPedestals : IAsyncDisposable
{
    static readonly TimeSpan Beat = TimeSpan.FromMilliseconds(100);

    readonly MqttLink link;
    readonly CancellationTokenSource end = new();
    readonly Task running;
    double amps;
    long measured, published;

    public PatientPedestals(string host, int port)
    {
        link = MqttLink.Start(new MqttOptions(host, port, "pedestals") { Backoff = new(TimeSpan.FromMilliseconds(100), TimeSpan.FromSeconds(2)) }, []);
        running = Task.WhenAll(TwoPedestals.Names.Select(name => Task.Run(() => Run(name))));
    }

    /// <summary>On both; so that it can be seen which readings have arrived.</summary>
    public double Amps { set => Volatile.Write(ref amps, value); }

    /// <summary>Readings of both together; those of one have the seqs from 0 on.</summary>
    public long Measured => Volatile.Read(ref measured);

    public long Published => Volatile.Read(ref published);

    public bool IsConnected => link.State.Value.Phase == LinkPhase.Connected;

    /// <summary>They measure no more, and all that they have measured is with the broker.</summary>
    public async Task Finish()
    {
        await end.CancelAsync();
        await running;
    }

    public async ValueTask DisposeAsync()
    {
        await link.DisposeAsync();
        end.Dispose();
    }

    async Task Run(string name)
    {
        var (waiting, seq) = (new Queue<WireMessage>(), 0L);
        using var beat = new PeriodicTimer(Beat);
        var publishing = Task.CompletedTask;
        while (!end.IsCancellationRequested || waiting.Count > 0 || !publishing.IsCompleted)
        {
            await beat.WaitForNextTickAsync();
            if (!end.IsCancellationRequested)
            {
                waiting.Enqueue(Message(name, seq++));
                Interlocked.Increment(ref measured);
            }
            if (!publishing.IsCompleted)
                continue;
            await publishing;
            WireMessage[] all = [.. waiting];
            waiting.Clear();
            publishing = Publish(all);
        }
        await publishing;
    }

    async Task Publish(IEnumerable<WireMessage> messages)
    {
        foreach (var message in messages)
        {
            while (!(await link.Publish(message, CancellationToken.None)).IsAccepted)
                await link.State.When(state => state.Phase == LinkPhase.Connected, CancellationToken.None);
            Interlocked.Increment(ref published);
        }
    }

    WireMessage Message(string name, long seq) => new($"farberth/v1/gullhaven/pedestal/{name}/reading",
        Encoding.UTF8.GetBytes(PacedReadings.Reading(seq, DateTimeOffset.UtcNow, ("P0", Volatile.Read(ref amps)))));
}
