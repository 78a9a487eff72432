using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon;

/// <summary>Publishes messages when their time has come on a clock; <see cref="ScaledClock"/> makes it faster.</summary>
public sealed class Player(TimeProvider clock, Func<WireMessage, CancellationToken, ValueTask> publish)
{
    /// <param name="messages">In order of arrival. One that is already overdue goes out at once.</param>
    public async Task PlayAsync(IEnumerable<RecordedMessage> messages, CancellationToken cancel)
    {
        foreach (var recorded in messages)
        {
            cancel.ThrowIfCancellationRequested();
            while (Left(recorded.At) is var wait && wait > TimeSpan.Zero)
                await Task.Delay(wait, clock, cancel).ConfigureAwait(false);
            await publish(recorded.Message, cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Whole milliseconds, rounded up: a delay drops the rest and would not wait at all for less than one.</summary>
    TimeSpan Left(DateTimeOffset at) =>
        TimeSpan.FromMilliseconds(Math.Ceiling((at - clock.GetUtcNow()).TotalMilliseconds));
}
