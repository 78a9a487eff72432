using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms.Rules;
using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Tests.Alarms;

public class MeterGainTests
{
    [Fact]
    public void A_meter_beyond_its_class_is_told_with_its_share_and_that_it_is_corrected()
    {
        var picture = new TestDock().Run(TimeSpan.FromSeconds(11)).Last.Picture;
        var gains = new Dictionary<MeterKey, LearnedGain> { [new("B2", Leg.L2)] = new(-0.0151, 0.0012), [new("B3", Leg.L1)] = new(0.006, 0.001) };
        var findings = new MeterDoubtful().Judge(picture with { Learned = picture.Learned with { Gains = gains } }).Where(one => one.Place.Pedestal != null).ToDictionary(one => one.Place.Pedestal!);
        Assert.Equal(["B2"], findings.Where(one => one.Value.Margin > 0).Select(one => one.Key));
        var told = findings["B2"].Describe();
        Assert.StartsWith("The meter of pedestal B2 shows 1.5 % too little on L2, ± 0.2 %", told.Message, StringComparison.Ordinal);
        Assert.Equal(-0.0151, (double)told.Evidence["gain"]!);
        Assert.Equal("The meter of pedestal B3 fits the others again.", findings["B3"].Describe().Message);
    }

    [Fact]
    public void Its_volts_are_corrected_in_the_estimate()
    {
        var dock = new TestDock().Say("B2", 121.8, 120).Run(TimeSpan.FromSeconds(11));
        var (site, definition, image) = (TestDock.Site, dock.Definition, dock.Last.Picture.Image);
        double Volts(params (MeterKey, LearnedGain)[] gains) => new Monitoring.Estimate.DockEstimator(site, definition)
            .Estimate(image, DockLearned.Nothing with { Gains = gains.ToDictionary(one => one.Item1, one => one.Item2) }).Pedestals["B2"].Volts[Leg.L1];
        Assert.InRange(Volts(), 120.4, 120.8); // one of three pulls
        Assert.Equal(120, Volts((new("B2", Leg.L1), new(0.015, 0.001))), 0.02);
        Assert.Equal(Volts(), Volts((new("B2", Leg.L1), new(0.006, 0.001))), 1e-9); // within its class: let alone
    }

    [Fact]
    public void Three_meters_cannot_say_which_of_them_is_off()
    {
        var dock = new TestDock().Say("B2", 121.8, 120).Run(TimeSpan.FromMinutes(3));
        Assert.Empty(dock.Last.Picture.Learned.Gains);
    }
}
