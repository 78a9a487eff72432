namespace Farberth.Service.Views;

/// <summary>The newest view of the site: one writer, any number of readers, each of whom gets one whole view.</summary>
public sealed class LatestView(SiteView first)
{
    volatile SiteView value = first;
    TaskCompletionSource next = Fresh();

    public SiteView Value => value;

    public void Set(SiteView newest)
    {
        value = newest;
        Interlocked.Exchange(ref next, Fresh()).SetResult();
    }

    /// <summary>The newest view, as soon as it is another than the one that was seen.</summary>
    public async Task<SiteView> After(SiteView seen, CancellationToken cancel)
    {
        while (true)
        {
            var waiting = Volatile.Read(ref next).Task;
            if (value is var newest && !ReferenceEquals(newest, seen))
                return newest;
            await waiting.WaitAsync(cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Whoever waits goes on in a thread of his own: he must not hold up the writer.</summary>
    static TaskCompletionSource Fresh() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
