using Serilog;
using Serilog.Core;
using Serilog.Events;

namespace Farberth.Service.Tests;

/// <summary>Standard error may be a pipe that nobody reads: 64 KiB later (Linux, pipe(7)) a write to it does not come back.</summary>
public class UnhurriedLogTests
{
    [Fact]
    public async Task Who_writes_does_not_wait_for_a_log_that_stands_still_and_the_lost_lines_are_counted_in_it()
    {
        const int more = 7;
        var pipe = new Pipe();
        var log = new LoggerConfiguration().WriteTo.Sink(new UnhurriedLog(pipe)).CreateLogger();
        log.Information("the first");
        await pipe.IsFull.WaitAsync(TestContext.Current.CancellationToken);

        for (var line = 0; line < UnhurriedLog.Room + more; line++)
            log.Information("line {Line}", line);
        Assert.Single(pipe.Taken);
        pipe.IsRead.Release(UnhurriedLog.Room + 2);
        await log.DisposeAsync();

        Assert.Equal(["the first", $"{more} lines of the log are lost: it was taken too slowly", "line 0"], pipe.Taken.Take(3));
        Assert.Equal(UnhurriedLog.Room + 2, pipe.Taken.Count);
        Assert.Equal($"line {UnhurriedLog.Room - 1}", pipe.Taken[^1]);
    }

    /// <summary>Takes a line, and comes back when somebody has read it.</summary>
    sealed class Pipe : ILogEventSink
    {
        public SemaphoreSlim IsRead { get; } = new(0);

        public SemaphoreSlim IsFull { get; } = new(0);

        public List<string> Taken { get; } = [];

        public void Emit(LogEvent logEvent)
        {
            Taken.Add(logEvent.RenderMessage(System.Globalization.CultureInfo.InvariantCulture));
            IsFull.Release();
            IsRead.Wait();
        }
    }
}
