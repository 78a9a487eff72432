using System.Text;
using Farberth.Monitoring.Site;
using Farberth.Service.Views;

namespace Farberth.Service.Tests;

public class FreeSlipsTests
{
    static readonly DateTimeOffset Start = new(2027, 8, 3, 15, 0, 0, TimeSpan.Zero);

    readonly SiteMonitor monitor = new(Given.FourPosts());

    [Fact]
    public void A_slip_is_free_where_nothing_says_that_a_boat_is_there()
    {
        Hear(Start, "pedestal/Q1/reading", """ "outlets":{"A":{"amps":{"L1":0}},"B":{"amps":{"L2":6.2}}} """);

        Assert.Equal(["B1"], Free(Start));
    }

    [Fact]
    public void A_boat_that_has_just_stopped_drawing_is_still_there_until_half_a_day_has_gone_by()
    {
        Hear(Start, "pedestal/Q1/reading", """ "outlets":{"A":{"amps":{"L1":6.2}}} """);
        Hear(Start.AddMinutes(1), "pedestal/Q1/reading", """ "outlets":{"A":{"amps":{"L1":0}}} """);
        Assert.Empty(Free(Start.AddMinutes(1)));

        Hear(Start.AddHours(13), "pedestal/Q1/reading", """ "outlets":{"A":{"amps":{"L1":0}}} """);
        Assert.Equal(["B1"], Free(Start.AddHours(13)));
    }

    [Fact]
    public void What_the_dock_office_says_counts_before_what_was_drawn()
    {
        Hear(Start, "pedestal/Q1/reading", """ "outlets":{"A":{"amps":{"L1":6.2}},"B":{"amps":{"L2":0}}} """);
        Hear(Start.AddMinutes(1), "pedestal/Q1/reading", """ "outlets":{"A":{"amps":{"L1":0}},"B":{"amps":{"L2":0}}} """);
        Hear(Start.AddMinutes(1), "slip/B1/boat", """ "present":false """);
        Hear(Start.AddMinutes(1), "slip/B2/boat", """ "present":true """);

        Assert.Equal(["B1"], Free(Start.AddMinutes(1)));
    }

    [Fact]
    public void An_open_outlet_and_volts_outside_band_A_are_not_offered()
    {
        Hear(Start, "pedestal/Q1/reading", """ "outlets":{"A":{"amps":{"L1":0},"closed":false}} """);
        Hear(Start, "pedestal/Q3/reading", """ "outlets":{"A":{"amps":{"L1":0}}} """, volts: 200);

        Assert.Empty(Free(Start));
    }

    IEnumerable<string?> Free(DateTimeOffset now) => FreeSlips.Of(monitor.Advance(now).Last()).Select(risk => risk.Outlet.Slip);

    void Hear(DateTimeOffset at, string topic, string members, double volts = 231) =>
        Assert.NotNull(monitor.Take(new(at, new($"farberth/v1/fourposts/{topic}", Encoding.UTF8.GetBytes(
            $$$"""{"time":"{{{at:O}}}","volts":{"L1":{{{volts}}},"L2":231,"L3":231},{{{members}}}}""")))).Value);
}
