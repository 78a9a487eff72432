namespace Farberth.Service;

/// <summary>Wakes one waiter; set several times before he waits, it wakes him once.</summary>
sealed class Signal(TimeProvider clock)
{
    readonly Lock gate = new();
    TaskCompletionSource set = New();

    public void Set()
    {
        lock (gate)
            set.TrySetResult();
    }

    /// <summary>Waits until it is set, but not beyond a moment. What it was set for is looked at after this, so that nothing is missed.</summary>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public async Task Until(DateTimeOffset? due, CancellationToken stop)
    {
        Task waiting;
        lock (gate)
            waiting = set.Task;
        try
        {
            var wait = due is not { } at ? Timeout.InfiniteTimeSpan : at - clock.GetUtcNow() is var left && left > TimeSpan.Zero ? left : TimeSpan.Zero;
            await waiting.WaitAsync(wait, clock, stop).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            return; // it is due
        }
        lock (gate)
            set = New();
    }

    static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
