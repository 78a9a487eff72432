using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon;

/// <summary>Messages under way, given out in order of arrival; equal times in the order they were sent.</summary>
public sealed class MessagesUnderWay
{
    readonly PriorityQueue<RecordedMessage, (DateTimeOffset At, long Order)> queue = new();
    long order;

    public void Add(RecordedMessage message) => queue.Enqueue(message, (message.At, order++));

    /// <summary>Takes all that arrive before a moment.</summary>
    public IReadOnlyList<RecordedMessage> TakeUntil(DateTimeOffset moment)
    {
        var taken = new List<RecordedMessage>();
        while (queue.TryPeek(out var message, out _) && message.At < moment)
            taken.Add(queue.Dequeue());
        return taken;
    }
}
