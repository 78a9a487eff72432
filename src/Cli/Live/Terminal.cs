using System.Text;

namespace Farberth.Cli.Live;

/// <summary>A screen of its own that is given back on disposal; what was there before comes back.</summary>
sealed class Terminal : IDisposable
{
    readonly Stream output = Console.OpenStandardOutput();
    readonly bool colours = string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"));

    public Terminal() => Write("\e[?1049h\e[?25l\e[2J");

    /// <summary>Both ends are a terminal, so that there is somebody to look and to press q.</summary>
    public static bool IsThere => !Console.IsOutputRedirected && !Console.IsInputRedirected;

    public static int Width => Math.Max(40, Console.WindowWidth);

    public static int Height => Math.Max(10, Console.WindowHeight);

    /// <summary>Draws from the top left, in one write so that nothing flickers.</summary>
    public void Draw(IReadOnlyList<ScreenLine> lines)
    {
        var screen = new StringBuilder("\e[H");
        foreach (var line in lines.Take(Height))
            screen.Append(line.Draw(Width, colours)).Append("\e[K\r\n");
        screen.Length -= 2;
        Write(screen.Append("\e[J").ToString());
    }

    /// <summary>Somebody pressed q since the last call.</summary>
    public static bool WantsToQuit()
    {
        var quit = false;
        while (Console.KeyAvailable)
            quit |= Console.ReadKey(intercept: true).KeyChar is 'q' or 'Q';
        return quit;
    }

    public void Dispose() => Write("\e[?25h\e[?1049l");

    void Write(string text)
    {
        output.Write(Encoding.UTF8.GetBytes(text));
        output.Flush();
    }
}
