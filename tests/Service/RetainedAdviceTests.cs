using System.Text;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Loop;

namespace Farberth.Service.Tests;

public class RetainedAdviceTests
{
    static readonly DateTimeOffset Start = new(2027, 8, 3, 15, 0, 0, TimeSpan.Zero);
    static readonly byte[] Something = "{}"u8.ToArray();
    static readonly string Slip = Given.FourPosts().Slips.Keys.First();

    readonly SiteMonitor monitor = new(Given.FourPosts());
    readonly RetainedAdvice retained = new(Given.FourPosts());

    [Fact]
    public void A_request_of_an_earlier_run_is_taken_away_once_the_dock_has_been_judged()
    {
        retained.Take(new($"farberth/v1/fourposts/slip/{Slip}/advice", Something, Retain: true));
        Hear("Q1", "Q2", "Q3");
        Assert.Empty(Step(0));
        Hear("Q4");
        var taken = Assert.Single(Step(1));
        Assert.Equal(($"farberth/v1/fourposts/slip/{Slip}/advice", true, true), (taken.Topic, taken.Payload.IsEmpty, taken.Retain));
        Assert.Empty(Step(2));
    }

    [Theory]
    [InlineData("farberth/v1/fourposts/slip/nowhere/advice", true)]
    [InlineData("farberth/v1/elsewhere/slip/SLIP/advice", true)]
    [InlineData("farberth/v1/fourposts/slip/SLIP/boat", true)]
    [InlineData("farberth/v1/fourposts/slip/SLIP/advice", false)]
    public void What_is_no_retained_request_of_this_site_is_left_alone(string topic, bool retain)
    {
        retained.Take(new(topic.Replace("SLIP", Slip, StringComparison.Ordinal), Something, retain));
        Hear("Q1", "Q2", "Q3", "Q4");
        Assert.Empty(Step(0));
    }

    List<WireMessage> Step(int seconds) => [.. monitor.Advance(Start.AddSeconds(seconds)).SelectMany(retained.Outdated)];

    void Hear(params string[] pedestals)
    {
        foreach (var pedestal in pedestals)
            monitor.Take(new(Start, new($"farberth/v1/fourposts/pedestal/{pedestal}/reading",
                Encoding.UTF8.GetBytes($$$"""{"time":"{{{Start:O}}}","volts":{"L1":231,"L2":231,"L3":231}}"""))));
    }
}
