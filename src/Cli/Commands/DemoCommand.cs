using System.CommandLine;
using Farberth.Cli.Live;
using Farberth.Service;
using Farberth.Service.Views;

namespace Farberth.Cli.Commands;

/// <summary>A hot afternoon on an invented dock in a few minutes, with nothing else installed.</summary>
static class DemoCommand
{
    const string Site = "kestrel-cove.site.yaml", Story = "hot-afternoon.scenario.yaml";

    static readonly TimeSpan BetweenPictures = TimeSpan.FromMilliseconds(250);

    public static Command Make()
    {
        var minutes = new Option<double>("--minutes") { Description = "How long the afternoon takes.", HelpName = "N", DefaultValueFactory = _ => 3, CustomParser = result => Arguments.Number(result, 0.01, 1440) };
        var http = Arguments.Http();
        var command = new Command("demo", "Watch a hot afternoon on an invented dock: broker, meters and service in one.") { minutes, http };
        command.SetAction((parsed, stop) => Run(TimeSpan.FromMinutes(parsed.GetValue(minutes)), parsed.GetRequiredValue(http), stop));
        return command;
    }

    static async Task<int> Run(TimeSpan duration, Uri http, CancellationToken stop)
    {
        var folder = Path.Combine(AppContext.BaseDirectory, "scenarios");
        var site = InputFiles.Site(Path.Combine(folder, Site));
        var simulation = InputFiles.Simulation(Path.Combine(folder, Story), site);
        try
        {
            await using var demo = await Demo.Start(site, InputFiles.Text(Path.Combine(folder, Site)), simulation, duration, http);
            using var ending = CancellationTokenSource.CreateLinkedTokenSource(stop);
            var playing = demo.Play(ending.Token);
            await (Terminal.IsThere ? Watch(demo, site, playing) : Tell(demo, playing, new Showing(site)));
            await ending.CancelAsync();
            await Quietly(playing);
            Console.WriteLine(ClosingSummary.Of(demo.View, demo.Published, new Showing(site)));
            return Exit.Done;
        }
        catch (IOException e)
        {
            throw CommandFailure.Outside(e.Message);
        }
    }

    /// <summary>Draws the dock until the story ends or somebody presses q.</summary>
    static async Task Watch(Demo demo, Monitoring.Site.SiteDefinition site, Task playing)
    {
        var screen = new DockScreen(site, $"{demo.HttpAddress}  shows the same   q ends");
        using var terminal = new Terminal();
        using var timer = new PeriodicTimer(BetweenPictures);
        do
            terminal.Draw(screen.Lines(demo.View, Terminal.Width, Terminal.Height));
        while (!playing.IsCompleted && !Terminal.WantsToQuit() && await timer.WaitForNextTickAsync());
    }

    /// <summary>One line for each alarm transition, for a pipe or a file.</summary>
    static async Task Tell(Demo demo, Task playing, Showing showing)
    {
        Console.WriteLine($"page: {demo.HttpAddress}");
        Console.WriteLine(Caution.Text);
        using var timer = new PeriodicTimer(BetweenPictures);
        long told = 0;
        bool goesOn;
        do
        {
            goesOn = !playing.IsCompleted;
            var history = demo.View.History;
            foreach (var change in history.Since(told))
                Console.WriteLine(ClosingSummary.Line(change, showing));
            told = history.Count;
        }
        while (goesOn && await timer.WaitForNextTickAsync());
    }

    /// <summary>Waits for the end; that it was cut short is no failure.</summary>
    static async Task Quietly(Task playing)
    {
        try
        {
            await playing;
        }
        catch (OperationCanceledException)
        {
            // Ctrl-C or q.
        }
    }
}
