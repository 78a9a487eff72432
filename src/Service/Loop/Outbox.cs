using System.Diagnostics.CodeAnalysis;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Loop;

/// <summary>
/// What is still to be published: the latest message of each topic, in the order in which the topics came in. Everything
/// the service publishes is retained, so a newer message makes an older one pointless; the number of topics bounds it.
/// </summary>
public sealed class Outbox : IDisposable
{
    readonly Lock gate = new();
    readonly SemaphoreSlim waiting = new(0);
    readonly LinkedList<WireMessage> order = [];
    readonly Dictionary<string, LinkedListNode<WireMessage>> byTopic = [];

    public int Count
    {
        get
        {
            lock (gate)
                return order.Count;
        }
    }

    public void Put(WireMessage message)
    {
        lock (gate)
        {
            if (byTopic.TryGetValue(message.Topic, out var node))
            {
                node.Value = message;
                return;
            }
            byTopic[message.Topic] = order.AddLast(message);
        }
        waiting.Release();
    }

    /// <summary>Takes out the message that has waited longest, as soon as there is one. For one taker at a time.</summary>
    public async Task<WireMessage> Take(CancellationToken cancel)
    {
        await waiting.WaitAsync(cancel).ConfigureAwait(false);
        return TryTake(out var message) ? message : throw new InvalidOperationException("the outbox has two takers");
    }

    public void Dispose() => waiting.Dispose();

    bool TryTake([NotNullWhen(true)] out WireMessage? message)
    {
        lock (gate)
        {
            message = order.First?.Value;
            if (message is null)
                return false;
            byTopic.Remove(message.Topic);
            order.RemoveFirst();
            return true;
        }
    }
}
