using System.Diagnostics;
using System.Runtime.CompilerServices;

namespace Farberth.Tests.Fixtures;

/// <summary>A running mosquitto_sub and what it prints.</summary>
public sealed class MosquittoSubscription : IAsyncDisposable
{
    readonly Process process;

    internal MosquittoSubscription(Process process) => this.process = process;

    /// <summary>The next message; payloads must be text of one line. Not for two callers at a time.</summary>
    public async Task<(string Topic, string Payload)> Next(CancellationToken cancel)
    {
        var line = await process.StandardOutput.ReadLineAsync(cancel)
            ?? throw new InvalidOperationException($"mosquitto_sub ended: {await process.StandardError.ReadToEndAsync(cancel)}");
        var space = line.IndexOf(' ', StringComparison.Ordinal);
        return (line[..space], line[(space + 1)..]);
    }

    public async IAsyncEnumerable<(string Topic, string Payload)> All([EnumeratorCancellation] CancellationToken cancel)
    {
        while (true)
            yield return await Next(cancel);
    }

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
            process.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
    }
}
