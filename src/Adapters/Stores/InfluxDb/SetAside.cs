namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>
/// Lines that the server did not take, for a person to look at: each with the server's reason, in a file of bounded size.
/// Beyond that they are counted only. A line that is sent again after the server was away is refused again and counts again.
/// </summary>
sealed class SetAside(string path, long mostBytes)
{
    long count;

    /// <summary>Since the program started.</summary>
    public long Count => Volatile.Read(ref count);

    public void Add(string line, string problem)
    {
        Interlocked.Increment(ref count);
        try
        {
            if (!File.Exists(path) || new FileInfo(path).Length + line.Length < mostBytes)
                File.AppendAllText(path, $"# {problem.ReplaceLineEndings(" ")}\n{line}\n");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The count is what must not be lost; the file is a convenience.
        }
    }
}
