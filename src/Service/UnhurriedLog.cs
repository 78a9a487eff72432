using System.Threading.Channels;
using Serilog.Core;
using Serilog.Events;
using Serilog.Parsing;

namespace Farberth.Service;

/// <summary>
/// A log in front of one that may stand still: a terminal that is held, a pipe that nobody reads. Whoever writes goes on at once, or the docks would
/// wait for a line to be read. What finds no room is counted, and the count is a line of the log as soon as lines are taken again.
/// </summary>
/// <remarks>Serilog.Sinks.Async 2.1.0 does as much, but waits at its end until all is taken: measured, a service with a pipe that nobody reads would not stop.</remarks>
sealed class UnhurriedLog : ILogEventSink, IDisposable
{
    /// <summary>Lines that may wait.</summary>
    public const int Room = 10_000;

    static readonly TimeSpan AtTheEnd = TimeSpan.FromSeconds(2);
    static readonly MessageTemplate LostLines = new MessageTemplateParser().Parse("{Lost} lines of the log are lost: it was taken too slowly");

    readonly Channel<LogEvent> waiting = Channel.CreateBounded<LogEvent>(new BoundedChannelOptions(Room) { SingleReader = true });
    readonly ILogEventSink behind;
    readonly Task writing;
    int lost;

    public UnhurriedLog(ILogEventSink behind)
    {
        this.behind = behind;
        // A thread of its own: it may stand still for as long as it likes.
        writing = Task.Factory.StartNew(Write, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
    }

    public void Emit(LogEvent logEvent)
    {
        if (!waiting.Writer.TryWrite(logEvent))
            Interlocked.Increment(ref lost);
    }

    /// <summary>What waits is written, where it is taken within a moment.</summary>
    public void Dispose()
    {
        waiting.Writer.TryComplete();
        if (writing.Wait(AtTheEnd))
            (behind as IDisposable)?.Dispose();
    }

    void Write()
    {
        foreach (var line in waiting.Reader.ReadAllAsync().ToBlockingEnumerable())
        {
            behind.Emit(line);
            if (Interlocked.Exchange(ref lost, 0) is var count and > 0)
                behind.Emit(new(line.Timestamp, LogEventLevel.Warning, null, LostLines, [new("Lost", new ScalarValue(count))]));
        }
    }
}
