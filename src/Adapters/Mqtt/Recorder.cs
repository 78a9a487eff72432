using Farberth.Adapters.Recordings;

namespace Farberth.Adapters.Mqtt;

/// <param name="Messages">Written.</param>
/// <param name="Overruns">Times the disk was slower than the broker; the broker kept what came meanwhile.</param>
/// <param name="Lost">Messages at QoS 0 that were under way when the link let go.</param>
public sealed record RecordingCounts(long Messages, long Overruns, long Lost);

/// <summary>Writes what a link receives into a recording, and acknowledges what the disk has.</summary>
public static class Recorder
{
    /// <summary>Topic filter for one site, or for all where none is named.</summary>
    public static string Filter(string? site) => site is null ? "farberth/v1/#" : $"farberth/v1/{site}/#";

    /// <summary>Writes until cancelled or until the link is closed; what has arrived by then is in the file.</summary>
    /// <param name="written">Told the number of messages in the file, each time it has grown.</param>
    /// <exception cref="IOException">The disk does not take it.</exception>
    public static async Task<RecordingCounts> Run(
        MqttLink link, RecordingWriter writer, CancellationToken stop, IProgress<long>? written = null)
    {
        try
        {
            while (await link.Messages.WaitToReadAsync(stop).ConfigureAwait(false))
                WriteWaiting(link, writer, written);
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            WriteWaiting(link, writer, written);
        }
        return new RecordingCounts(writer.Count, link.Counts.Overruns, link.Counts.Lost);
    }

    // One flush for all that is waiting: prompt when little comes, cheap when much does. The broker may forget them after it.
    static void WriteWaiting(MqttLink link, RecordingWriter writer, IProgress<long>? written)
    {
        long last = 0;
        for (var waiting = link.Messages.Count; waiting > 0 && link.Messages.TryRead(out var arrival); waiting--)
        {
            writer.Write(arrival.Recorded);
            last = arrival.Number;
        }
        writer.Flush();
        if (last > 0)
            link.Confirm(last);
        written?.Report(writer.Count);
    }
}
