namespace Farberth.Adapters.Stores.Intake;

/// <summary>A file that a crash leaves as it was or as it was to be, and never in between.</summary>
public static class WholeFile
{
    /// <summary>Written beside, flushed and renamed: durable on return.</summary>
    /// <exception cref="IOException">The disk does not take it; what was there before is still there.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written to.</exception>
    public static void Replace(string path, ReadOnlySpan<byte> bytes)
    {
        var next = path + ".next";
        using (var file = new FileStream(next, FileMode.Create, FileAccess.Write))
        {
            file.Write(bytes);
            file.Flush(flushToDisk: true);
        }
        File.Move(next, path, overwrite: true);
        FolderSync.Flush(Path.GetDirectoryName(path)!);
    }
}
