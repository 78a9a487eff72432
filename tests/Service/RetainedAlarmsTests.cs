using System.Text;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Loop;

namespace Farberth.Service.Tests;

public class RetainedAlarmsTests
{
    const string Outdated = "farberth/v1/fourposts/alarm/Q.Q1.A.overload";

    static readonly DateTimeOffset Start = new(2027, 8, 3, 15, 0, 0, TimeSpan.Zero);
    static readonly byte[] Something = "{}"u8.ToArray();

    readonly SiteMonitor monitor = new(Given.FourPosts());
    readonly RetainedAlarms retained = new(Given.FourPosts());

    [Fact]
    public void Nothing_is_taken_away_before_every_pedestal_has_been_heard()
    {
        retained.Take(new(Outdated, Something, Retain: true));

        Assert.Empty(Step(Start));
        Hear(Start, "Q1", "Q2", "Q3");
        Assert.Empty(Step(Start.AddSeconds(1)));
        Hear(Start, "Q4");
        var taken = Assert.Single(Step(Start.AddSeconds(2)));
        Assert.Equal((Outdated, true, true), (taken.Topic, taken.Payload.IsEmpty, taken.Retain));
        Assert.Empty(Step(Start.AddSeconds(3)));
    }

    [Fact]
    public void An_alarm_that_stands_stays()
    {
        Hear(Start, "Q1", "Q2", "Q3", "Q4");
        Step(Start);
        // Only Q1 goes on sending: after 90 s of silence the others have an alarm that stands.
        for (var second = 1; second <= 120; second++)
        {
            Hear(Start.AddSeconds(second), "Q1");
            Step(Start.AddSeconds(second));
        }
        retained.Take(new("farberth/v1/fourposts/alarm/Q.Q2.meter-silent", Something, Retain: true));
        retained.Take(new(Outdated, Something, Retain: true));

        Assert.Equal([Outdated], Step(Start.AddSeconds(121)).Select(message => message.Topic));
    }

    [Theory]
    [InlineData(Outdated, false)]
    [InlineData("farberth/v1/fourposts/alarm/Q.Q1.A.overload/acknowledge", true)]
    [InlineData("farberth/v1/fourposts/dock/Q/state", true)]
    [InlineData("farberth/v1/elsewhere/alarm/Q.Q1.A.overload", true)]
    public void What_is_no_retained_alarm_of_this_site_is_left_alone(string topic, bool retain)
    {
        retained.Take(new(topic, Something, retain));
        Hear(Start, "Q1", "Q2", "Q3", "Q4");

        Assert.Empty(Step(Start.AddSeconds(1)));
    }

    List<WireMessage> Step(DateTimeOffset now) => [.. monitor.Advance(now).SelectMany(retained.Outdated)];

    void Hear(DateTimeOffset at, params string[] pedestals)
    {
        foreach (var pedestal in pedestals)
            monitor.Take(new(at, new($"farberth/v1/fourposts/pedestal/{pedestal}/reading",
                Encoding.UTF8.GetBytes($$$"""{"time":"{{{at:O}}}","volts":{"L1":231,"L2":231,"L3":231}}"""))));
    }
}
