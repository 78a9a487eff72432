using Farberth.Grid.Conductors;
using Farberth.Grid.Network;
using Farberth.Planning.Replays;
using Farberth.Planning.Survey;
using Farberth.Planning.Tests.Survey;

namespace Farberth.Planning.Tests.Replays;

public class WhatIfTests
{
    static readonly DockHistory Day = Recorded.Of(240, (_, outlet, _) => outlet == "A" ? 15 : 3);

    /// <summary>The law of Ohm: 50 mohm in L1 with 60 A through it are 3 V, which come back.</summary>
    [Fact]
    public void A_repaired_joint_gives_its_volts_back()
    {
        var result = WhatIf.Of(Recorded.Site, Day, [new JointRepair("R1", Leg.L1, 50)])!;
        Assert.Equal(60 * 0.050, result.After.LowestVolts - result.Before.LowestVolts, 0.05);
        Assert.True(result.After.LossKilowattHours < result.Before.LossKilowattHours);
    }

    /// <summary>Half the resistance (table 8, 75 °C: 2/0 Al 0.159, 350 kcmil Al 0.0605 ohm/kft) in the last cable: of its drop 38 % is left.</summary>
    [Fact]
    public void A_larger_cable_loses_in_proportion_to_its_resistance()
    {
        var larger = Conductor.All.Single(conductor => conductor.Designation == "350 kcmil Al");
        var result = WhatIf.Of(Recorded.Site, Day, [new CableChange("R4", larger)])!;
        // 15 A out on L1, 12 A back in the neutral, through 30 m = 98.4 ft.
        var drop = (15 + 12) * 0.159 * 98.4 / 1000;
        Assert.Equal(drop * (1 - 0.0605 / 0.159), result.After.LowestVolts - result.Before.LowestVolts, 0.05);
    }

    [Fact]
    public void The_volts_behind_the_transformer_are_those_that_explain_what_was_measured()
    {
        var measured = Recorded.Of(60, (_, _, _) => 0, _ => 117.3);
        var result = WhatIf.Of(Recorded.Site, measured, [new Hotter(5)])!;
        Assert.Equal(117.3, result.Before.LowestVolts, 0.01);
        Assert.Equal(117.3, result.After.LowestVolts, 0.01); // nothing drawn, nothing more in the heat
    }

    /// <summary>31 °C and 5 K more: from 11 to 16 cooling degrees at 4 % each, 20 % more drawn.</summary>
    [Fact]
    public void Heat_takes_four_percent_more_for_each_kelvin()
    {
        var result = WhatIf.Of(Recorded.Site, Day, [new Hotter(5)])!;
        Assert.Equal(1.20, result.After.MostVoltAmperes / result.Before.MostVoltAmperes, 0.01);
        Assert.True(result.After.LowestVolts < result.Before.LowestVolts);
    }

    [Fact]
    public void Boats_come_to_outlets_that_drew_nothing_and_no_more_than_there_are()
    {
        var half = Recorded.Of(240, (pedestal, outlet, _) => pedestal is "R1" or "R2" || outlet == "A" ? 10 : 0);
        var result = WhatIf.Of(Recorded.Site, half, [new MoreBoats(5, 30, 1)])!;
        Assert.Equal(2, result.BoatsPlaced);
        Assert.True(result.After.MostVoltAmperes > result.Before.MostVoltAmperes + 2 * 8 * 120);
    }
}
