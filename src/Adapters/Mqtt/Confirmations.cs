namespace Farberth.Adapters.Mqtt;

/// <summary>How far the reader of a link has confirmed that it is done with the messages. One reader confirms.</summary>
sealed class Confirmations
{
    long upTo;
    TaskCompletionSource? moved;

    public void Confirm(long number)
    {
        Volatile.Write(ref upTo, number);
        Interlocked.Exchange(ref moved, null)?.TrySetResult();
    }

    public bool Has(long number) => Volatile.Read(ref upTo) >= number;

    /// <exception cref="OperationCanceledException">Cancelled first.</exception>
    public async Task Reached(long number, CancellationToken cancel)
    {
        while (!Has(number))
        {
            var mine = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            var waited = Interlocked.CompareExchange(ref moved, mine, null) ?? mine;
            // It may have been confirmed between the check above and the exchange.
            if (Has(number))
                return;
            try
            {
                await waited.Task.WaitAsync(cancel).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (Has(number))
            {
                // Confirmed just before the end.
            }
        }
    }
}
