namespace Farberth.Service;

/// <summary>Wakes one waiter; set several times before he waits, it wakes him once.</summary>
sealed class Signal(TimeProvider clock)
{
    readonly SemaphoreSlim more = new(0);

    public void Set()
    {
        if (more.CurrentCount == 0)
            more.Release();
    }

    /// <summary>Waits until it is set, but not beyond a moment.</summary>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public async Task Until(DateTimeOffset? due, CancellationToken stop)
    {
        using var time = due is not { } at ? new CancellationTokenSource()
            : new CancellationTokenSource(at - clock.GetUtcNow() is var wait && wait > TimeSpan.Zero ? wait : TimeSpan.Zero, clock);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(time.Token, stop);
        try
        {
            await more.WaitAsync(either.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!stop.IsCancellationRequested)
        {
            // It is due.
        }
    }
}
