using Farberth.Grid.Protection;

namespace Farberth.Grid.Tests.Protection;

public class TransformerHeatTests
{
    /// <summary>
    /// Input set of the reference code of IEEE C57.91-2024 (confirmed from a stored copy): 52 MVA, losses measured at 28 MVA and 75 °C:
    /// windings 51,690 W, stray 21,078 W, core 36,986 W; rises at 52 MVA: top liquid 55 K, hottest spot 80 K; n = m = 0.8.
    /// R at 52 MVA and 30 + 65 - 30 = 65 °C of mean rise is our arithmetic: 6.566.
    /// </summary>
    static readonly TransformerRise Reference = new(
        55, 80, (51_690 + 21_078) * (52.0 / 28) * (52.0 / 28) * (234.5 + 65) / (234.5 + 75) / 36_986, 0.8, 0.8,
        TimeSpan.FromMinutes(145.3), TimeSpan.FromMinutes(5));

    /// <summary>The one result that is printed there (its unit test, confirmed).</summary>
    [Fact]
    public void At_its_rating_in_30_degrees_the_hottest_spot_of_the_reference_transformer_is_at_110() =>
        Assert.Equal(110, 30 + TransformerHeat.Settled(Reference, 1).HotSpotKelvin, 0.05);

    /// <summary>The clause's own equations at other loads, worked by hand and by a script before this code was there.</summary>
    [Theory]
    [InlineData(0.5, 23.70, 8.25, 61.95)]
    [InlineData(0.8, 40.76, 17.49, 88.25)]
    [InlineData(1.0, 55.00, 25.00, 110.00)]
    [InlineData(1.2, 71.24, 33.47, 134.71)]
    [InlineData(1.5, 99.00, 47.83, 176.82)]
    public void Other_loads_settle_where_the_equations_of_clause_7_say(double load, double topLiquid, double gradient, double hotSpot)
    {
        var settled = TransformerHeat.Settled(Reference, load);
        Assert.Equal(topLiquid, settled.TopLiquidKelvin, 0.01);
        Assert.Equal(gradient, settled.GradientKelvin, 0.01);
        Assert.Equal(hotSpot, 30 + settled.HotSpotKelvin, 0.02);
    }

    /// <summary>
    /// The loading example of IEC 60076-7's annex: load and outdoor air every three minutes (confirmed from a stored copy of its data),
    /// through the overload of 1.7. Followed here by the guide's own difference equations in small steps, with its constants for
    /// distribution transformers (k11 = k21 = 1, k22 = 2, from memory), so that τ_w·k22 is the winding's time.
    /// </summary>
    [Fact]
    public void A_varying_load_is_followed_as_the_difference_equations_of_IEC_60076_7_do()
    {
        var rise = new TransformerRise(45, 80, 8, 0.8, 0.65, TimeSpan.FromMinutes(180), TimeSpan.FromMinutes(8));
        var heat = TransformerHeat.Settled(rise, AnnexLoad[0]);
        var (topLiquid, gradient) = (heat.TopLiquidKelvin, heat.GradientKelvin);
        var hottest = 0.0;
        foreach (var load in AnnexLoad)
        {
            heat = heat.Follow(rise, load, TimeSpan.FromMinutes(3));
            for (var second = 0; second < 180; second++)
            {
                topLiquid += 1.0 / (60 * 180) * (Math.Pow((1 + load * load * 8) / 9, 0.8) * 45 - topLiquid);
                gradient += 1.0 / (60 * 2 * 4) * (35 * Math.Pow(load, 1.3) - gradient);
            }
            Assert.Equal(topLiquid, heat.TopLiquidKelvin, 0.02);
            Assert.Equal(gradient, heat.GradientKelvin, 0.05);
            hottest = Math.Max(hottest, heat.HotSpotKelvin);
        }
        Assert.InRange(hottest, 1.5 * TransformerHeat.Settled(rise, AnnexLoad[0]).HotSpotKelvin, TransformerHeat.Settled(rise, 1.73).HotSpotKelvin);
    }

    static readonly IReadOnlyList<double> AnnexLoad =
    [
        0.81, 0.87, 0.88, 0.86, 0.90, 0.92, 0.95, 0.96, 0.97, 1.00, 1.70, 1.70, 1.73, 1.72, 1.69, 1.68, 1.71, 1.69, 1.67, 1.68, 1.63,
        1.59, 1.53, 1.49, 1.41, 1.38, 1.32, 1.28, 1.21, 1.19, 0.87, 0.88, 0.87, 0.86, 0.85, 0.87, 0.83, 0.86, 0.85, 0.82, 0.86,
    ];

    [Fact]
    public void The_liquid_takes_its_time_constant_to_go_63_percent_of_the_way()
    {
        var cold = TransformerHeat.Settled(TransformerRise.Liquid, 0);
        var hot = TransformerHeat.Settled(TransformerRise.Liquid, 1);
        var after = cold;
        for (var minute = 0; minute < 180; minute++)
            after = after.Follow(TransformerRise.Liquid, 1, TimeSpan.FromMinutes(1));
        Assert.Equal(1 - Math.Exp(-1), (after.TopLiquidKelvin - cold.TopLiquidKelvin) / (hot.TopLiquidKelvin - cold.TopLiquidKelvin), 1e-9);
    }

    /// <summary>Class 220 °C stands for 40 °C of air, 150 K of mean rise and 30 K at the hottest spot (from memory).</summary>
    [Fact]
    public void A_dry_transformer_at_its_rating_in_40_degrees_is_at_its_class_temperature() =>
        Assert.Equal(220, 40 + TransformerHeat.Settled(TransformerRise.Dry, 1).HotSpotKelvin, 1e-9);

    /// <summary>
    /// IEEE C57.91, F_AA = exp(15000/383 - 15000/(Θ + 273)), constants confirmed; values are our arithmetic of it. The guide's table prints
    /// 0.0358, 0.1156, 0.3499, 1.0, 2.709, 6.984 and 17.20 at the tens (from memory).
    /// </summary>
    [Theory]
    [InlineData(80, 0.0358)]
    [InlineData(90, 0.1156)]
    [InlineData(98, 0.2817)]
    [InlineData(100, 0.3499)]
    [InlineData(110, 1)]
    [InlineData(120, 2.709)]
    [InlineData(130, 6.984)]
    [InlineData(140, 17.20)]
    public void Insulation_in_liquid_ages_as_the_guide_tabulates(double hotSpotCelsius, double factor) =>
        Assert.Equal(factor, InsulationAgeing.OfLiquid(hotSpotCelsius), factor * 3e-3);

    [Fact]
    public void Dry_insulation_ages_twice_as_fast_for_each_10_kelvin()
    {
        Assert.Equal(1, InsulationAgeing.OfDry(220), 1e-12);
        Assert.Equal(0.25, InsulationAgeing.OfDry(200), 1e-12);
    }
}
