namespace Farberth.Service.Office.Live;

/// <summary>
/// Open consoles are drawn in turn, so many at a time that half the processors stay free: however many look, what pedestals say is heard and judged
/// first. Whoever waits for a turn then draws what is newest, and leaves out what lay between.
/// </summary>
public sealed class Turns : IDisposable
{
    /// <summary>Drawing takes about a millisecond. A page that is busy with something else must not hold up the others.</summary>
    static readonly TimeSpan Longest = TimeSpan.FromMilliseconds(50);

    readonly SemaphoreSlim free = new(Math.Max(1, Environment.ProcessorCount / 2));

    /// <returns>Done when it has drawn, or when it has had its turn and is still not done.</returns>
    /// <exception cref="OperationCanceledException">Stopped while it waited.</exception>
    public async Task Take(Func<Task> draw, CancellationToken stop)
    {
        await free.WaitAsync(stop).ConfigureAwait(false);
        try
        {
            await draw().WaitAsync(Longest, stop).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            // It goes on by itself.
        }
        finally
        {
            free.Release();
        }
    }

    public void Dispose() => free.Dispose();
}
