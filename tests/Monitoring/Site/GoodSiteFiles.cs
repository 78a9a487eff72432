using Farberth.Grid.Conductors;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Tests.Site;

public class GoodSiteFiles
{
    public static TheoryData<string> Files => SampleFiles.Good;

    [Theory, MemberData(nameof(Files))]
    public void A_good_file_gives_a_site_and_no_mistakes(string file)
    {
        var result = SiteFile.Read(SampleFiles.Text(file));
        Assert.Empty(result.Mistakes);
        Assert.NotNull(result.Site);
    }

    [Fact]
    public void The_good_files_cover_every_supply() => Assert.Equal(
        SupplySystem.All.Select(supply => supply.Name).Order(),
        Files.Select(row => Site(row.Data).Supply.Name).Distinct().Order());

    [Fact]
    public void A_transformer_and_its_dock_are_read_in_volts_amps_and_shares()
    {
        var dock = Site("good-split-phase-120.yaml").Docks["C"];
        Assert.Equal(122, dock.Source.NoLoadVolts);
        Assert.Equal(new TransformerDefinition(75_000, 0.025, 1.5), dock.Source.Transformer);
        Assert.Null(dock.Source.FaultAmps);
        Assert.Equal(300, dock.FeederBreakerAmps);
    }

    // One foot is 0.3048 m and one inch 25.4 mm exactly (international yard and pound agreement, 1959).
    [Fact]
    public void Cables_keep_their_order_and_lengths_come_in_metres()
    {
        var cables = Site("good-split-phase-120.yaml").Docks["C"].Cables;
        Assert.Equal(["C4", "C3", "C2", "C1"], cables.Select(cable => cable.To));
        double[] metres = [60 * 0.3048, 12, 720 * 0.0254, 180 * 0.3048];
        Assert.All(cables.Zip(metres), pair => Assert.Equal(pair.Second, pair.First.LengthMetres, 1e-9));
    }

    [Fact]
    public void Cables_have_what_the_file_says_and_else_the_defaults()
    {
        var cables = Site("good-split-phase-120.yaml").Docks["C"].Cables;
        Assert.Equal([Raceway.None, Raceway.Pvc, Raceway.Steel, Raceway.Aluminium], cables.Select(cable => cable.Raceway));
        Assert.Equal([1, 1, 1, 2], cables.Select(cable => cable.Sets));
        Assert.Equal(
            [TemperatureRating.C75, TemperatureRating.C75, TemperatureRating.C90, TemperatureRating.C75],
            cables.Select(cable => cable.Rating));
        Assert.Equal([null, 280, null, null], cables.Select(cable => cable.AmpacityAmps));
        Assert.Equal(cables[0].Conductor, cables[0].Neutral);
        Assert.Equal(70, cables[1].Neutral.SquareMillimetres);
    }

    [Fact]
    public void Outlets_have_legs_neutral_and_slip()
    {
        var outlets = Site("good-split-phase-120.yaml").Docks["C"].Pedestals["C3"].Outlets;
        Assert.Equal([Leg.L2], outlets["A"].Legs);
        Assert.True(outlets["A"].HasNeutral);
        Assert.Equal([Leg.L1, Leg.L2], outlets["D"].Legs);
        Assert.False(outlets["D"].HasNeutral);
        Assert.Equal(50, outlets["D"].RatingAmps);
        Assert.Equal("C-2", outlets["D"].Slip);
    }

    [Fact]
    public void A_slip_may_be_empty_and_unused()
    {
        var slips = Site("good-split-phase-120.yaml").Slips;
        Assert.Equal(new SlipDefinition("C-3", null, null, null), slips["C-3"]);
        Assert.Equal(15 * 0.3048, slips["C-1"].BeamMetres!.Value, 1e-9);
    }

    [Fact]
    public void A_service_is_its_fault_current_or_stiff()
    {
        var docks = Site("good-wye-208.yaml").Docks;
        Assert.Equal(new SourceDefinition(121.5, null, 22_000, 4), docks["North"].Source);
        Assert.Equal(new SourceDefinition(120, null, null, 0), docks["South"].Source);
        Assert.Null(docks["South"].FeederBreakerAmps);
    }

    [Fact]
    public void Limits_and_timings_of_the_file_replace_the_defaults_one_by_one()
    {
        var site = Site("good-wye-208.yaml");
        Assert.Equal(new VoltageBands(LowA: 110, LowB: 106, HighA: 125, HighB: 126), site.Limits.Volts);
        Assert.Equal(
            (0.75, 0.2, 35, 15, 0.9, 1, -1),
            (site.Limits.ContinuousShare, site.Limits.LegImbalanceShare, Math.Round(site.Limits.RacewayCelsius, 9),
             site.Limits.SunRiseKelvin, site.Limits.PowerFactor, site.Limits.DrawingAmps, site.Limits.LoadResponse));
        Assert.Equal(new AlarmTiming(TimeSpan.FromSeconds(90), TimeSpan.FromMinutes(6), 0.025), site.AlarmTimings[AlarmKind.Overload]);
        Assert.Equal(
            RegionDefaults.AlarmTimings[AlarmKind.MeterSilent] with { RaiseAfter = TimeSpan.FromMinutes(3) },
            site.AlarmTimings[AlarmKind.MeterSilent]);
        Assert.Equal(RegionDefaults.AlarmTimings[AlarmKind.NoDraw], site.AlarmTimings[AlarmKind.NoDraw]);
    }

    [Fact]
    public void A_single_band_of_the_file_stands_among_the_regions_others() => Assert.Equal(
        new VoltageBands(LowA: 207, LowB: 207, HighA: 253, HighB: 253),
        Site("good-wye-400.yaml").Limits.Volts);

    static SiteDefinition Site(string file) =>
        SiteFile.Read(SampleFiles.Text(file)).Site ?? throw new InvalidOperationException($"{file} has mistakes");
}
