using Farberth.Monitoring.Site;
using Farberth.Service.SiteEditing;
using Farberth.Service.Tests.Views;

namespace Farberth.Service.Tests.SiteEditing;

public class SiteChangeTests
{
    static readonly string Text = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data/hot-afternoon/four-posts.site.yaml"));

    static SiteDefinition Site(params (string From, string To)[] edits)
    {
        var text = Text;
        foreach (var (from, to) in edits)
        {
            Assert.Contains(from, text, StringComparison.Ordinal);
            text = text.Replace(from, to, StringComparison.Ordinal);
        }
        var read = SiteFile.Read(text);
        Assert.Empty(read.Mistakes);
        return read.Site!;
    }

    [Fact]
    public void A_file_does_not_differ_from_itself() => Assert.Empty(SiteChange.Between(Site(), Site()));

    [Fact]
    public void What_was_added_removed_and_changed_is_said_thing_by_thing()
    {
        var changes = SiteChange.Between(Site(), Site(
            ("feeder-breaker: 100 A", "feeder-breaker: 125 A"),
            ("to: Q3, length: 20 m, conductor: 25 mm2 Cu", "to: Q3, length: 25 m, conductor: 35 mm2 Cu"),
            ("          B: { rating: 16 A, legs: [L2], slip: B2 }\n", ""),
            ("A: { rating: 16 A, legs: [L1], slip: B5 }", "A: { rating: 32 A, legs: [L1, L2, L3], slip: B5 }"),
            ("  B6: { length: 18 m", "  B7: { length: 9 m }\n  B6: { length: 18 m")));
        Assert.Equal(
        [
            new("dock Q", "changed", "feeder breaker", "100 A", "125 A"),
            new("dock Q, cable to Q3", "changed", "conductor", "25 mm2 Cu", "35 mm2 Cu"),
            new("dock Q, cable to Q3", "changed", "length", "20 m", "25 m"),
            new("dock Q, cable to Q3", "changed", "neutral", "25 mm2 Cu", "35 mm2 Cu"),
            new("dock Q, outlet Q1.B", "removed", null, "rating 16 A, legs L2, neutral yes, slip B2", null),
            new("dock Q, outlet Q3.A", "changed", "legs", "L1", "L1+L2+L3"),
            new("dock Q, outlet Q3.A", "changed", "rating", "16 A", "32 A"),
            new("slip B7", "added", null, null, "length 9 m"),
        ], changes.OrderBy(one => one.Thing, StringComparer.Ordinal).ThenBy(one => one.Fact, StringComparer.Ordinal));
    }

    [Fact]
    public void A_limit_and_an_alarms_delay_are_changes_too()
    {
        var changes = SiteChange.Between(Site(), Site(("slips:\n", "limits: { power-factor: 0.9 }\nalarms: { overload: { raise-after: 90 s, clear-after: 1 s, deadband: 3 % } }\nslips:\n")));
        Assert.Contains(changes, one => one is { Thing: "limits", Fact: "power factor", After: "0.9" });
        Assert.Contains(changes, one => one is { Thing: "alarm overload", Fact: "raise after", After: "90 s" });
    }

    /// <summary>Of everything that a site is, nothing may change without being said: one fact at a time is altered and must be found.</summary>
    [Fact]
    public void Every_part_of_a_definition_is_compared()
    {
        var site = Site();
        var cable = site.Docks["Q"].Cables[0];
        Assert.NotEmpty(Changed(cable with { Sets = 2 }));
        Assert.NotEmpty(Changed(cable with { AmpacityAmps = 99 }));
        Assert.NotEmpty(SiteChange.Between(site, site with { Limits = site.Limits with { SunRiseKelvin = 99 } }));
        Assert.NotEmpty(SiteChange.Between(site, site with { Limits = site.Limits with { Leakage = new(1, 2) } }));
        Assert.NotEmpty(SiteChange.Between(site, site with { Advice = site.Advice with { LowVolts = 1 } }));
        Assert.NotEmpty(SiteChange.Between(site, site with { TimeZone = "Europe/Berlin" }));

        IReadOnlyList<SiteChange> Changed(CableDefinition other)
        {
            var dock = site.Docks["Q"];
            var docks = new Dictionary<string, DockDefinition> { ["Q"] = dock with { Cables = [other, .. dock.Cables.Skip(1)] } };
            return SiteChange.Between(site, site with { Docks = docks });
        }
    }

    /// <summary>Ohm's law: with the same amps, what is lost along a cable goes with its length (NEC chapter 9, table 9, gives ohms by length).</summary>
    [Fact]
    public void Twice_the_cables_lose_twice_the_volts()
    {
        const string Stiff = "source: { no-load: 233 V }";
        (string, string) stiff = ("source: { no-load: 233 V, fault-current: 6 kA, x/r: 1.2 }", Stiff);
        var before = Site(stiff);
        var after = Site(stiff, ("length: 60 m, conductor", "length: 120 m, conductor"), ("to: Q2, length: 20 m", "to: Q2, length: 40 m"),
            ("to: Q3, length: 20 m", "to: Q3, length: 40 m"), ("to: Q4, length: 30 m", "to: Q4, length: 60 m"));
        var dock = before.Docks["Q"];
        var monitor = new DockMonitor(before, dock);
        foreach (var reading in QuayReadings.Hour(dock).Take(4))
            monitor.Take(reading, reading.Time);
        var now = new Dictionary<string, DockStep> { ["Q"] = monitor.Step(QuayReadings.Noon.AddSeconds(5)) };

        var changes = ProfileChange.Between(before, after, now);
        Assert.Equal(4 * 3, changes.Count);
        var lowest = changes.MinBy(one => one.Before)!;
        Assert.True(233 - lowest.Before > 2);
        // Power factors turn a little along the cable: not to the last volt.
        Assert.All(changes, one => Assert.Equal(2 * (233 - one.Before!.Value), 233 - one.After!.Value, 0.15));
    }

    [Fact]
    public void A_pedestal_that_only_one_of_the_files_has_is_in_the_profile_with_one_number()
    {
        var before = Site();
        var after = Site(
            ("      - { from: Q2, to: Q3, length: 20 m, conductor: 25 mm2 Cu, raceway: pvc }\n", "      - { from: Q2, to: Q5, length: 20 m, conductor: 25 mm2 Cu, raceway: pvc }\n"),
            ("      Q3:\n", "      Q5:\n"));
        var dock = before.Docks["Q"];
        var monitor = new DockMonitor(before, dock);
        var now = new Dictionary<string, DockStep> { ["Q"] = monitor.Step(QuayReadings.Noon) };
        var changes = ProfileChange.Between(before, after, now);
        Assert.All(changes.Where(one => one.Pedestal == "Q3"), one => Assert.Null(one.After));
        Assert.All(changes.Where(one => one.Pedestal == "Q5"), one => Assert.Null(one.Before));
        Assert.Equal(3 + 3, changes.Count(one => one.Pedestal is "Q3" or "Q5"));
    }
}
