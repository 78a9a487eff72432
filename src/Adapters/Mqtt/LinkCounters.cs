namespace Farberth.Adapters.Mqtt;

/// <summary>The counters behind <see cref="LinkCounts"/>; any thread may count.</summary>
sealed class LinkCounters
{
    long connections, received, acknowledged, cut, overruns, lost, published, notPublished;

    public void Connected() => Interlocked.Increment(ref connections);
    public void Received() => Interlocked.Increment(ref received);
    public void Acknowledged() => Interlocked.Increment(ref acknowledged);
    public void WasCut() => Interlocked.Increment(ref cut);
    public void Overran() => Interlocked.Increment(ref overruns);
    public void Lost() => Interlocked.Increment(ref lost);

    public void Published(bool accepted)
    {
        if (accepted)
            Interlocked.Increment(ref published);
        else
            Interlocked.Increment(ref notPublished);
    }

    public LinkCounts Read() => new(
        Volatile.Read(ref connections), Volatile.Read(ref received), Volatile.Read(ref acknowledged), Volatile.Read(ref cut),
        Volatile.Read(ref overruns), Volatile.Read(ref lost), Volatile.Read(ref published), Volatile.Read(ref notPublished));
}
