using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Tests.Learning;

/// <summary>A dock on which nothing flows: its meters should all show the same volts.</summary>
public class GainsLearned
{
    readonly TestDock dock = new TestDock().Say("B2", 120.6, 120);

    [Fact]
    public void Volts_that_differ_where_nothing_flows_are_gains()
    {
        var gains = dock.Run(TimeSpan.FromMinutes(61)).Last.Picture.Learned.GainsAgainstMean;
        Assert.Equal(6, gains.Count);
        void Shows(string pedestal, Leg leg, double share)
        {
            var gain = gains[new MeterKey(pedestal, leg)];
            Assert.Equal(share, gain.Share, 2 * gain.Sd);
            Assert.InRange(gain.Sd, 0.0001, 0.0005);
        }
        // B2 shows 0.5 % more than the two others, so it is two thirds of that above the mean of the three.
        Shows("B1", Leg.L1, -0.0017);
        Shows("B2", Leg.L1, 0.0033);
        Shows("B3", Leg.L1, -0.0017);
        Shows("B2", Leg.L2, 0);
    }

    [Fact]
    public void Before_the_first_full_hour_no_gain_is_known() =>
        Assert.Empty(dock.Run(TimeSpan.FromMinutes(20)).Last.Picture.Learned.GainsAgainstMean);
}
