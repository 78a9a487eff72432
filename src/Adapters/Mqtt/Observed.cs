namespace Farberth.Adapters.Mqtt;

/// <summary>A value that others can read and wait on. Every value set is shown to everybody who waits at that moment.</summary>
public sealed class Observed<T>(T initial)
{
    readonly Lock gate = new();
    readonly List<Waiter> waiters = [];
    T value = initial;

    public T Value
    {
        get
        {
            lock (gate)
                return value;
        }
    }

    /// <summary>The first value, from the present one on, that meets the condition.</summary>
    public async Task<T> When(Func<T, bool> condition, CancellationToken cancel)
    {
        var waiter = new Waiter(condition, new(TaskCreationOptions.RunContinuationsAsynchronously));
        lock (gate)
        {
            if (condition(value))
                return value;
            waiters.Add(waiter);
        }
        try
        {
            return await waiter.Met.Task.WaitAsync(cancel).ConfigureAwait(false);
        }
        finally
        {
            lock (gate)
                waiters.Remove(waiter);
        }
    }

    internal void Set(T next)
    {
        lock (gate)
        {
            value = next;
            foreach (var waiter in waiters)
                if (waiter.Condition(next))
                    waiter.Met.TrySetResult(next);
        }
    }

    sealed record Waiter(Func<T, bool> Condition, TaskCompletionSource<T> Met);
}
