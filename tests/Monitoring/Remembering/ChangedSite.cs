using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Remembering;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Tests.Remembering;

/// <summary>The site file may be another one after a restart; or the memory's bytes may be broken.</summary>
public class ChangedSite
{
    static readonly DateTimeOffset End = TestDock.Start.AddMinutes(20);

    /// <summary>Twenty minutes with alarms at B1 and B3.</summary>
    static readonly SiteMemory Memory = Watched().Memory();

    [Fact]
    public void The_same_site_forgets_nothing()
    {
        var monitor = new SiteMonitor(TestDock.Site, Memory);
        Assert.Empty(monitor.Forgotten);
        Assert.Equal(["B.B1.A.overload", "B.B3.A.overload"], Standing(monitor));
    }

    [Fact]
    public void Other_limits_and_delays_forget_nothing() => Assert.Empty(
        new SiteMonitor(TestDock.Site with { Limits = TestDock.Site.Limits with { ContinuousShare = 0.7 } }, Memory).Forgotten);

    [Fact]
    public void A_longer_cable_leaves_the_alarms_and_what_was_learned_of_outlets()
    {
        var monitor = Changed(dock => dock with { Cables = [.. dock.Cables.Select(cable => cable with { LengthMetres = cable.LengthMetres + 10 })] });
        Assert.StartsWith("dock B: its cables, supply or outlets are others", Assert.Single(monitor.Forgotten), StringComparison.Ordinal);
        Assert.EndsWith("all of 0 outlets", monitor.Forgotten[0], StringComparison.Ordinal);
        Assert.Equal(["B.B1.A.overload", "B.B3.A.overload"], Standing(monitor));
        var (before, after) = (Memory.Docks["B"], monitor.Memory().Docks["B"]);
        Assert.Equal(before.Breakers.Breakers.Select(one => one.Breaker.Amps), after.Breakers.Breakers.Select(one => one.Breaker.Amps));
        Assert.Empty(after.Learning.Joints!.Remembered);
        Assert.NotEmpty(before.Learning.Joints!.Remembered);
    }

    [Fact]
    public void A_pedestal_that_is_gone_takes_its_alarms_with_it()
    {
        var monitor = Changed(dock => dock with { Pedestals = Without(dock.Pedestals, "B3"), Cables = [.. dock.Cables.Where(cable => cable.To != "B3")] });
        Assert.Contains("alarm B.B3.A.overload, unacknowledged: what it was about is not in the site file any more", monitor.Forgotten);
        Assert.Equal(["B.B1.A.overload"], Standing(monitor));
    }

    [Fact]
    public void An_outlet_with_another_rating_begins_anew_and_keeps_its_alarm()
    {
        var monitor = Changed(dock => dock with { Pedestals = With(dock.Pedestals, "B1", outlet => outlet with { RatingAmps = 50 }) });
        Assert.EndsWith("all of 2 outlets", Assert.Single(monitor.Forgotten), StringComparison.Ordinal);
        Assert.Contains("B.B1.A.overload", Standing(monitor));
        Assert.Null(monitor.Memory().Docks["B"].Breakers.Breakers.First(one => one.Outlet == new OutletKey("B1", "A")).Breaker.Heat);
    }

    [Fact]
    public void Another_sites_memory_is_not_taken()
    {
        var monitor = new SiteMonitor(TestDock.Site with { Name = "elsewhere" }, Memory);
        Assert.Equal(["everything: it is the memory of site marshpoint"], monitor.Forgotten);
        Assert.Empty(Standing(monitor));
    }

    [Fact]
    public void Bytes_that_are_broken_or_of_another_version_are_refused_with_the_reason()
    {
        var bytes = Memory.ToBytes();
        Assert.StartsWith("it cannot be read", SiteMemory.Read(bytes.AsMemory(0, bytes.Length / 2)).Problem, StringComparison.Ordinal);
        Assert.StartsWith("it cannot be read", SiteMemory.Read("no memory"u8.ToArray()).Problem, StringComparison.Ordinal);
        Assert.StartsWith("it cannot be read", SiteMemory.Read(ReadOnlyMemory<byte>.Empty).Problem, StringComparison.Ordinal);
        Assert.StartsWith("it is of version 0", SiteMemory.Read((Memory with { Version = 0 }).ToBytes()).Problem, StringComparison.Ordinal);
    }

    static SiteMonitor Watched()
    {
        var monitor = new SiteMonitor(TestDock.Site);
        Run(monitor, TestDock.Start, End);
        return monitor;
    }

    static SiteMonitor Changed(Func<DockDefinition, DockDefinition> change)
    {
        var site = TestDock.Site with { Docks = new Dictionary<string, DockDefinition> { ["B"] = change(TestDock.Site.Docks["B"]) } };
        return new(site, Memory);
    }

    /// <summary>Alarms that stand after one more tick.</summary>
    static IEnumerable<string> Standing(SiteMonitor monitor) =>
        Run(monitor, End, End.AddSeconds(1))!.Standing.Where(alarm => alarm.Kind == AlarmKind.Overload).Select(alarm => alarm.Id);

    static DockStep? Run(SiteMonitor monitor, DateTimeOffset from, DateTimeOffset until)
    {
        DockStep? last = null;
        for (var now = from; now < until; now = now.AddSeconds(1))
        {
            foreach (var step in monitor.Advance(now))
                last = step;
            if (now.Second % 10 == 0)
                foreach (var pedestal in monitor.Site.Docks["B"].Pedestals.Keys)
                    monitor.Take(new(now, new($"farberth/v1/{monitor.Site.Name}/pedestal/{pedestal}/reading", Payload(now, pedestal == "B2" ? 5 : 29))));
        }
        return last;
    }

    static byte[] Payload(DateTimeOffset now, double amps) => JsonSerializer.SerializeToUtf8Bytes(new JsonObject
    {
        ["time"] = now.ToString("O"),
        ["volts"] = new JsonObject { ["L1"] = 118, ["L2"] = 119 },
        ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
    });

    static Dictionary<string, PedestalDefinition> Without(IReadOnlyDictionary<string, PedestalDefinition> pedestals, string name) =>
        pedestals.Where(pair => pair.Key != name).ToDictionary();

    static Dictionary<string, PedestalDefinition> With(
        IReadOnlyDictionary<string, PedestalDefinition> pedestals, string name, Func<OutletDefinition, OutletDefinition> change) => pedestals.ToDictionary(
            pair => pair.Key,
            pair => pair.Key != name ? pair.Value : pair.Value with { Outlets = pair.Value.Outlets.ToDictionary(outlet => outlet.Key, outlet => change(outlet.Value)) });
}
