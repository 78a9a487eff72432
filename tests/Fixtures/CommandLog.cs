namespace Farberth.Tests.Fixtures;

/// <summary>Lines that a program has printed, and a way to wait for the next one.</summary>
public sealed class CommandLog
{
    /// <summary>Stands after the last line.</summary>
    public const string Ended = "(the program has ended)";

    readonly Lock gate = new();
    readonly List<string> lines = [];
    TaskCompletionSource more = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public int Count
    {
        get
        {
            lock (gate)
                return lines.Count;
        }
    }

    /// <summary>Reads until the program closes its end.</summary>
    public void Follow(StreamReader reader) => _ = Task.Run(async () =>
    {
        while (await reader.ReadLineAsync() is { } line)
            Add(line);
        Add(Ended);
    });

    /// <summary>The first line from the given index on that meets the condition.</summary>
    public async Task<string> When(Func<string, bool> condition, int from, CancellationToken cancel)
    {
        while (true)
        {
            Task next;
            lock (gate)
            {
                if (lines.Skip(from).FirstOrDefault(condition) is { } found)
                    return found;
                next = more.Task;
            }
            try
            {
                await next.WaitAsync(cancel);
            }
            catch (OperationCanceledException e)
            {
                throw new TimeoutException("the program never said it; it said:\n" + this, e);
            }
        }
    }

    public override string ToString()
    {
        lock (gate)
            return string.Join('\n', lines);
    }

    void Add(string line)
    {
        lock (gate)
        {
            lines.Add(line);
            more.SetResult();
            more = new(TaskCreationOptions.RunContinuationsAsynchronously);
        }
    }
}
