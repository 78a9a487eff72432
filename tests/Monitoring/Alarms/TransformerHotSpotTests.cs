using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>A transformer of 50 kVA in liquid: 208 A on each leg at 240 V.</summary>
public class TransformerHotSpotTests
{
    readonly TestDock dock = new();

    /// <summary>
    /// 195 A on each leg at about 119 V is 46.5 kVA, 93 % of 50: by the equations of IEEE C57.91 clause 7 the hottest spot settles some 72 K
    /// above the air. At 36 °C it stays below 120 °C, at 50 °C it does not.
    /// </summary>
    [Theory]
    [InlineData(36, 0)]
    [InlineData(50, 1)]
    public void Below_its_nameplate_it_is_the_heat_that_counts(double airCelsius, int raised)
    {
        Load(195, airCelsius).Run(TimeSpan.FromMinutes(20));
        Assert.InRange(dock.Last.Picture.Estimate.TransformerLoad!.Value, 0.88, 0.98);
        Assert.True(raised == dock.Of(AlarmKind.TransformerOverload).Count(), $"{dock.Last.Picture.Transformer} {dock.Last.Picture.Estimate.TransformerLoad}");
        Assert.All(dock.Of(AlarmKind.TransformerOverload), t =>
        {
            Assert.True((double)t.Alarm.Evidence["hot-spot-celsius"]! > 120);
            Assert.True((double)t.Alarm.Evidence["ageing"]! > 2.7); // at 120 °C it is 2.709
            Assert.Contains("120 °C is the limit", t.Alarm.Message);
        });
    }

    [Fact]
    public void The_hottest_spot_follows_the_load_in_its_own_time()
    {
        Load(20, 30).Run(TimeSpan.FromSeconds(90));
        var before = dock.Last.Picture.Transformer!;
        Load(195, 30).Run(TimeSpan.FromMinutes(30));
        var after = dock.Last.Picture.Transformer!;
        Assert.True(after.HotSpotCelsius > before.HotSpotCelsius + 20); // the winding has followed, in minutes
        Assert.True(after.TopLiquidCelsius < before.TopLiquidCelsius + 0.25 * (after.SettlesAtCelsius - before.SettlesAtCelsius)); // the liquid has not
        Assert.True(after.SettlesAtCelsius > after.HotSpotCelsius + 10);
    }

    [Fact]
    public void The_site_file_says_what_cools_it_and_how_warm_it_gets()
    {
        Assert.Equal(TransformerThermal.Liquid, Thermal(""));
        Assert.Equal(TransformerThermal.Dry, Thermal(", cooling: dry"));
        var given = Thermal(", cooling: liquid, top-liquid-rise: 45 K, hot-spot-rise: 65 K, time-constant: 150 min, hot-spot-limit: 95 °C");
        Assert.Equal((45, 65, 95), (given.Rise.TopLiquidKelvin, given.Rise.HotSpotKelvin, given.HotSpotLimitCelsius));
        Assert.Equal(TimeSpan.FromMinutes(150), given.Rise.LiquidTime);
    }

    TestDock Load(double amps, double airCelsius)
    {
        dock.Says["B1"] = TestDock.Reading("B1", 119, 119, ("A", Leg.L1, amps), ("B", Leg.L2, amps));
        return dock.Hear(new Weather(dock.Now, airCelsius, null, []));
    }

    static TransformerThermal Thermal(string keys) => TestDock.Read($$"""
        site: smallcove
        timezone: UTC
        supply: 120/240 V single-phase 3-wire
        docks:
          A:
            source: { no-load: 120 V, transformer: { rating: 50 kVA, impedance: 2 %, x/r: 1{{keys}} } }
            cables: [{ from: source, to: A1, length: 10 m, conductor: 120 mm2 Cu, raceway: pvc }]
            pedestals: { A1: { outlets: { A: { rating: 30 A, legs: [L1] } } } }
        """).Docks["A"].Source.Transformer!.Thermal;
}
