using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon;

/// <summary>Publishes messages when their time has come on a clock; a <see cref="ScaledClock"/> makes it faster.</summary>
public sealed class Player(TimeProvider clock, Func<WireMessage, CancellationToken, ValueTask> publish)
{
    /// <param name="messages">In order of arrival. One that is already overdue goes out at once.</param>
    public async Task PlayAsync(IEnumerable<RecordedMessage> messages, CancellationToken cancel)
    {
        foreach (var recorded in messages)
        {
            cancel.ThrowIfCancellationRequested();
            while (recorded.At > clock.GetUtcNow())
                await Task.Delay(WholeMilliseconds(recorded.At - clock.GetUtcNow()), clock, cancel).ConfigureAwait(false);
            await publish(recorded.Message, cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Rounded up: a delay drops the rest of a millisecond, and would not wait at all for less than one.</summary>
    static TimeSpan WholeMilliseconds(TimeSpan wait) => TimeSpan.FromMilliseconds(Math.Max(0, Math.Ceiling(wait.TotalMilliseconds)));
}
