using Farberth.Monitoring.Site;
using Farberth.Service.Views;

namespace Farberth.Service.Tests.Views;

public class SurveyTableTests
{
    static DockShown Quay()
    {
        var site = Given.FourPosts();
        var monitor = new DockMonitor(site, site.Docks["Q"]);
        foreach (var reading in QuayReadings.Hour(site.Docks["Q"]).Take(4))
            monitor.Take(reading, reading.Time);
        return new Showing(site).Dock(monitor.Step(QuayReadings.Noon.AddSeconds(5)));
    }

    /// <summary>RFC 4180: lines end in CR LF, and each has as many fields as the first.</summary>
    [Fact]
    public void Every_pedestal_and_leg_has_a_row_with_as_many_fields_as_the_head()
    {
        var rows = SurveyTable.Pedestals(Quay()).Split("\r\n");
        Assert.Equal("", rows[^1]);
        Assert.Equal("pedestal,metres,leg,volts measured,volts computed,sd volts,amps", rows[0]);
        Assert.Equal(1 + 4 * 3 + 1, rows.Length);
        Assert.All(rows[..^1], row => Assert.Equal(7, row.Split(',').Length));
        Assert.StartsWith("Q1,60,L1,", rows[1], StringComparison.Ordinal);
    }

    [Fact]
    public void Every_cable_has_a_row_for_each_leg_and_the_neutral()
    {
        var rows = SurveyTable.Cables(Quay()).Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(row => row.Split(',')).ToList();
        Assert.Equal(["L1", "L2", "L3", "N"], rows.Select(row => row[4]).Distinct().Order());
        Assert.Equal(4, rows.Select(row => row[1]).Distinct().Count());
        Assert.All(rows, row => Assert.Equal(9, row.Length));
    }
}
