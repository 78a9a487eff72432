namespace Farberth.Acceptance.Tests.Faults;

/// <summary>A random moment that needs no clock: something in a folder has been written to so many times.</summary>
static class FileWrites
{
    public static async Task After(string folder, int times)
    {
        using var watcher = new FileSystemWatcher(folder) { IncludeSubdirectories = true };
        var reached = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var left = times;
        watcher.Changed += (_, _) =>
        {
            if (Interlocked.Decrement(ref left) <= 0)
                reached.TrySetResult();
        };
        watcher.EnableRaisingEvents = true;
        await reached.Task;
    }
}
