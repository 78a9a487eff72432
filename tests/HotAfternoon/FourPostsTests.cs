using Farberth.Grid.Network;

namespace Farberth.HotAfternoon.Tests;

/// <summary>Volts and amps of the short scenario, on a three-phase quay.</summary>
public class FourPostsTests
{
    [Fact]
    public void Source_power_is_loads_and_losses_in_every_step()
    {
        foreach (var step in Given.FourPosts().Steps())
        {
            var solution = step.Truth.Docks["Q"].Solution;
            var gap = solution.Balance.Source - solution.Balance.Loads - solution.Balance.Losses;
            Assert.True(solution.Settled);
            Assert.True(gap.Magnitude <= 1e-9 * solution.Balance.Source.Magnitude);
        }
    }

    [Fact]
    public void An_overloaded_breaker_opens_says_so_and_is_reset()
    {
        var open = new List<TimeSpan>();
        var saidOpen = 0;
        foreach (var step in Given.FourPosts().Steps())
        {
            if (step.Truth.Docks["Q"].OpenOutlets.Contains("Q1.B"))
                open.Add(step.Truth.Local.TimeOfDay);
            foreach (var message in step.Arrived.Ending("Q1/reading"))
            {
                var outlet = message.Json().GetProperty("outlets").GetProperty("B");
                if (outlet.GetProperty("closed").GetBoolean())
                    continue;
                Assert.Equal(0, outlet.GetProperty("amps").GetProperty("L2").GetDouble());
                saidOpen++;
            }
        }
        Assert.InRange(open[0], new TimeSpan(16, 3, 0), new TimeSpan(16, 13, 0));
        Assert.Equal(new TimeSpan(16, 14, 59), open[^1]);
        Assert.InRange(saidOpen, 5, 80);
    }

    // Five spreads of a 0.3 % gain on 230 V, five of 0.1 V noise, and half the resolution.
    [Fact]
    public void Readings_are_the_truth_within_the_meters_errors()
    {
        var worst = 0.0;
        var punctual = Given.FourPosts(scenario => scenario with
        {
            Meters = scenario.Meters with { Lateness = TimeSpan.Zero, LateShare = 0, DuplicateShare = 0 },
        });
        foreach (var step in punctual.Steps())
            foreach (var message in step.Arrived.Ending("/reading"))
                foreach (var volts in message.Json().GetProperty("volts").EnumerateObject())
                {
                    var pedestal = message.Message.Topic.Split('/')[^2];
                    var truth = step.Truth.Docks["Q"].Volts(pedestal, Enum.Parse<Leg>(volts.Name));
                    worst = Math.Max(worst, Math.Abs(volts.Value.GetDouble() - truth));
                }
        Assert.InRange(worst, 0.2, 5 * 0.003 * 230 + 0.5 + 0.05);
    }

    [Fact]
    public void A_boat_whose_own_main_is_open_draws_nothing_from_a_live_outlet()
    {
        foreach (var truth in Given.FourPosts().Steps().Select(step => step.Truth))
        {
            var amps = truth.Docks["Q"].OutletAmps(new OutletName("Q3", "A"), Leg.L1);
            Assert.True(truth.Local.TimeOfDay < new TimeSpan(16, 12, 0) ? amps > 3 : amps == 0);
            Assert.True(truth.Docks["Q"].Volts("Q3", Leg.L1) > 200);
        }
    }

    [Fact]
    public void A_load_between_legs_leaves_the_neutral_alone()
    {
        var dock = Given.FourPosts().Steps().Last().Truth.Docks["Q"];
        Assert.Equal(0, dock.CableAmps("Q4", Leg.N), 6);
        Assert.True(dock.CableAmps("Q4", Leg.L2) > 5);
        Assert.Equal(dock.CableAmps("Q4", Leg.L2), dock.PedestalAmps("Q4", Leg.L2), 9);
    }

    [Fact]
    public void What_a_cable_drops_is_missing_at_its_outer_end()
    {
        var dock = Given.FourPosts().Steps().Last().Truth.Docks["Q"];
        var fall = dock.Volts("Q2", Leg.L1) - dock.Volts("Q3", Leg.L1);
        Assert.True(Math.Abs(fall) <= dock.CableDropVolts("Q3", Leg.L1) + dock.CableDropVolts("Q3", Leg.N) + 1e-9);
        Assert.Equal(dock.SourceAmps(Leg.L1), dock.CableAmps("Q1", Leg.L1), 9);
    }
}
