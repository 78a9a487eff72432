using System.Diagnostics;

namespace Farberth.Cli;

/// <summary>One line of progress on standard error, a few times a second, where that is a terminal.</summary>
sealed class Progress
{
    static readonly TimeSpan Between = TimeSpan.FromMilliseconds(200);

    readonly bool isTerminal = !Console.IsErrorRedirected;
    long shownAt = Stopwatch.GetTimestamp();
    bool isShown;

    public void Show(Func<string> line)
    {
        if (!isTerminal || Stopwatch.GetElapsedTime(shownAt) < Between)
            return;
        Console.Error.Write($"\r\e[K{line()}");
        (shownAt, isShown) = (Stopwatch.GetTimestamp(), true);
    }

    public void Clear()
    {
        if (isShown)
            Console.Error.Write("\r\e[K");
        isShown = false;
    }
}
