using Farberth.Adapters.Mqtt;
using Farberth.Cli.Live;
using Farberth.HotAfternoon;
using Farberth.Monitoring.Site;
using Farberth.Service.Views;

namespace Farberth.Cli.Tests;

public class DockScreenTests
{
    static readonly Lazy<(SiteDefinition Site, SiteView View)> Afternoon = new(HalfAnHour);

    [Theory]
    [InlineData(100, 30)]
    [InlineData(80, 24)]
    [InlineData(160, 50)]
    public void The_screen_fits_the_terminal_and_shows_every_pedestal(int width, int height)
    {
        var (site, view) = Afternoon.Value;
        var lines = new DockScreen(site, "the footer").Lines(view, width, height);

        Assert.True(lines.Count <= height, $"{lines.Count} lines");
        var drawn = lines.Select(line => line.Draw(width, colours: false)).ToList();
        Assert.All(drawn, line => Assert.True(line.Length <= width, line));
        Assert.Contains(drawn, line => site.Docks["H"].Pedestals.Keys.All(name => line.Contains(name[..Math.Min(2, name.Length)], StringComparison.Ordinal)));
        Assert.Contains("Nobody swims at a powered dock", drawn[^2], StringComparison.Ordinal);
        Assert.Equal("the footer", drawn[^1]);
    }

    [Fact]
    public void Colours_change_nothing_but_the_colours()
    {
        var (site, view) = Afternoon.Value;
        foreach (var line in new DockScreen(site, "").Lines(view, 100, 30))
            Assert.Equal(line.Draw(100, colours: false), System.Text.RegularExpressions.Regex.Replace(line.Draw(100, colours: true), @"\e\[[0-9;]*m", ""));
    }

    [Fact]
    public void The_lowest_volts_in_figures_are_those_of_the_readings()
    {
        var (site, view) = Afternoon.Value;
        var step = view.Docks["H"];
        var lowest = new DockScreen(site, "").Lines(view, 100, 30).Select(line => line.Text).Single(text => text.StartsWith("lowest", StringComparison.Ordinal));

        var expected = new DockDistances(site.Docks["H"]).Pedestals
            .Select(name => step.Picture.Image.Pedestals[name].Latest!.Volts)
            .Select(volts => Math.Min(volts.L1, volts.L2).ToString("0"));
        Assert.Equal(expected, lowest.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1..].Select(text => text.TrimEnd('?')));
    }

    static (SiteDefinition, SiteView) HalfAnHour()
    {
        string Text(string name) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "scenarios", name));
        var site = SiteFile.Read(Text("kestrel-cove.site.yaml")).Site!;
        var simulation = new Simulation(Scenario.Read(Text("hot-afternoon.scenario.yaml")).Scenario!, site);
        var (monitor, view) = (new SiteMonitor(site), SiteView.AtStart(site));
        foreach (var message in simulation.Run().TakeWhile(message => message.At < simulation.Start.AddMinutes(30)))
        {
            foreach (var step in monitor.Advance(message.At))
                view = view.After(step, monitor.Refusals.Snapshot(), new LinkState(LinkPhase.Connected), view.Counts, 0);
            monitor.Take(message);
        }
        return (site, view);
    }
}
