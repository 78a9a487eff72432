using CsCheck;
using Farberth.Grid.Protection;

namespace Farberth.Grid.Tests.Protection;

public class ConnectorHeatTests
{
    static readonly ConnectorModel Model = new(30, 30);

    /// <summary>UL 498: contacts rise by no more than 30 K at rated amps (from memory): that is F = 1.</summary>
    [Fact]
    public void A_contact_as_its_standard_allows_rises_by_the_rated_rise_at_rated_amps()
    {
        var outlook = Outlook(ConnectorHeat.Settled(Model.Share(30)), new(1, 0, 0, 0, 0));
        Assert.Equal(35 + 30, outlook.SettlesAtCelsius, 1e-9);
        Assert.Equal(35 + 30, outlook.Celsius(0), 1e-9);
    }

    /// <summary>Between pure I²R and 1.7, as for assemblies (common practice, from memory): at 80 % of the amps 64 to 68 % of the rise.</summary>
    [Fact]
    public void At_80_percent_of_the_amps_about_two_thirds_of_the_rise_is_left() =>
        Assert.InRange(Model.Share(24), Math.Pow(0.8, 2), Math.Pow(0.8, 1.7));

    /// <summary>A small plug and receptacle take 15 to 30 min (from memory): here is when 63 % is reached.</summary>
    [Fact]
    public void Metal_follows_sooner_than_the_housing_and_both_within_half_an_hour()
    {
        var heat = default(ConnectorHeat);
        var (minute, at) = (ConnectorStep.Of(TimeSpan.FromMinutes(1)), 0);
        while (heat.Share < 1 - Math.Exp(-1))
            (heat, at) = (heat.Follow(1, 1, minute), at + 1);
        Assert.InRange(at, 10, 30);
        Assert.True(heat.Fast / ConnectorModel.FastShare > heat.Slow / (1 - ConnectorModel.FastShare));
    }

    [Fact]
    public void One_long_step_is_as_good_as_many_short_ones() => Gen.Select(Gen.Double[0, 2], Gen.Double[0, 2]).Sample((before, after) =>
    {
        var (one, many) = (ConnectorHeat.Settled(before), ConnectorHeat.Settled(before));
        one = one.Follow(after, after * after, ConnectorStep.Of(TimeSpan.FromMinutes(10)));
        for (var second = 0; second < 600; second++)
            many = many.Follow(after, after * after, ConnectorStep.Of(TimeSpan.FromSeconds(1)));
        Assert.Equal(one.Share, many.Share, 1e-9);
        Assert.Equal(one.Cord, many.Cord, 1e-9);
        Assert.Equal(one.Recent, many.Recent, 1e-9);
        Assert.Equal(one.Earlier, many.Earlier, 1e-9);
    }, iter: 20);

    [Fact]
    public void Steady_amps_stay_settled() => Gen.Double[0, 2].Sample(share =>
    {
        var settled = ConnectorHeat.Settled(share);
        var later = settled.Follow(share, Math.Pow(share, 2 / ConnectorModel.Exponent), ConnectorStep.Of(TimeSpan.FromMinutes(7)));
        Assert.Equal(settled.Share, later.Share, 1e-9);
        Assert.Equal(settled.Cord, later.Cord, 1e-9);
        Assert.Equal(0, later.DriftPerMinute, 1e-12);
    });

    /// <summary>An afternoon's sag: some percent more amps an hour. A boat that comes back: half of the rating at once.</summary>
    [Fact]
    public void A_slow_climb_is_a_drift_and_a_jump_is_none()
    {
        var minute = ConnectorStep.Of(TimeSpan.FromMinutes(1));
        var climbing = ConnectorHeat.Settled(0.6);
        for (var at = 0; at < 240; at++)
            climbing = climbing.Follow(0.6 + 0.05 * at / 60, 0.5, minute);
        Assert.Equal(0.05 / 60, climbing.DriftPerMinute, 0.2 * 0.05 / 60);
        var jumping = ConnectorHeat.Settled(0.1);
        for (var at = 0; at < 30; at++)
            jumping = jumping.Follow(0.6, 0.5, minute);
        Assert.Equal(0, jumping.DriftPerMinute);
    }

    [Fact]
    public void What_is_foreseen_is_what_comes_while_the_amps_stay() => Gen.Select(Gen.Double[0, 1.2], Gen.Double[0.3, 3], Gen.Int[1, 60]).Sample(
        (share, factor, minutes) =>
        {
            var heat = ConnectorHeat.Settled(0.3) with { Recent = share, Earlier = share };
            var wear = new ContactWear(factor, 2, 0, 0, 0);
            var foreseen = Outlook(heat, wear).Celsius(minutes);
            for (var minute = 0; minute < minutes; minute++)
                heat = heat.Follow(share, share, ConnectorStep.Of(TimeSpan.FromMinutes(1)));
            Assert.Equal(foreseen, Outlook(heat, wear).Celsius(0), 1e-9);
        });

    [Fact]
    public void Minutes_until_a_temperature_are_those_after_which_it_is_there()
    {
        var outlook = Outlook(default(ConnectorHeat) with { Recent = 1, Earlier = 1 }, new(1.5, 0, 0, 0, 0));
        var minutes = outlook.MinutesUntil(75)!.Value;
        Assert.InRange(minutes, 1, 120);
        Assert.True(outlook.Celsius(minutes) >= 75 && outlook.Celsius(minutes - 1) < 75);
        Assert.Equal(0, outlook.MinutesUntil(20));
        Assert.Null(outlook.MinutesUntil(90));
    }

    static ContactOutlook Outlook(ConnectorHeat heat, ContactWear wear) => new(Model, heat, wear, 35, 0);
}
