using Farberth.Grid.Network;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Advice;

/// <summary>What an alarm asks of the boater himself, with the cautions that belong to it.</summary>
public class AlarmAskTests
{
    readonly TestDock dock = new();
    readonly List<AdviceChange> changes = [];

    [Fact]
    public void A_boat_that_draws_nothing_is_asked_to_look_at_its_breaker_until_it_draws()
    {
        dock.Hear(new BoatNotice(dock.Now, "S1", true));
        Run(21);
        var asked = Assert.Single(changes).Advice;
        Assert.Equal((Ask.CheckBreaker, "S1", 0), (asked.Ask, asked.Slip, asked.Amps));
        Assert.Contains("Look at your own main breaker", asked.Message);
        Cautions(asked);
        dock.Say("B1", 119, 120, ("A", Leg.L1, 5));
        Run(3);
        Assert.Equal("it is over", changes[^1].TakenBack);
    }

    [Fact]
    public void A_lost_supply_is_told_with_the_batteries_in_mind()
    {
        dock.Say("B3", 118, 120, ("A", Leg.L1, 12));
        Run(1);
        dock.Say("B3", 0.4, 120);
        Run(1);
        var asked = Assert.Single(changes).Advice;
        Assert.Equal((Ask.ShoreLost, "S3"), (asked.Ask, asked.Slip));
        Assert.Contains("it now runs your outlets from the batteries", asked.Message);
        Cautions(asked);
    }

    [Fact]
    public void Leakage_is_a_hazard_loads_off_first_and_nobody_in_the_water()
    {
        dock.Says["B2"] = dock.Says["B2"] with
        {
            Outlets = dock.Says["B2"].Outlets.ToDictionary(pair => pair.Key, pair => pair.Key == "A"
                ? pair.Value with { LeakageMilliamps = 60, Amps = PerLeg.None.With(Leg.L1, 8) } : pair.Value),
        };
        Run(1);
        var asked = Assert.Single(changes).Advice;
        Assert.Equal((Ask.Unplug, "S2", 8), (asked.Ask, asked.Slip, asked.Amps));
        Assert.Matches("Switch off everything on board, then the breaker of outlet A at pedestal B2. Only then take the cord off", asked.Message);
        Assert.Contains("Keep everybody out of the water", asked.Message);
        Cautions(asked);
    }

    /// <summary>L1 falls as L2 rises from B2 on: the boats at B2 and B3 are told, those at B1 are not.</summary>
    [Fact]
    public void A_failing_neutral_unplugs_everybody_beyond_it()
    {
        dock.Say("B1", 118, 121, ("A", Leg.L1, 10)).Say("B2", 88, 150, ("A", Leg.L1, 14), ("B", Leg.L2, 3)).Say("B3", 87, 151, ("A", Leg.L1, 14), ("B", Leg.L2, 3));
        Run(1);
        Assert.Equal(["S2", "S3"], dock.Last.Advice.Standing.Where(asked => asked.Ask == Ask.Unplug).Select(asked => asked.Slip));
        Assert.All(dock.Last.Advice.Standing.Where(asked => asked.Ask == Ask.Unplug), Cautions);
    }

    static void Cautions(BoaterAdvice asked)
    {
        Assert.Contains("A cord comes off only after everything on it is switched off", asked.Message);
        Assert.Contains("local codes and a licensed electrician come first", asked.Message);
        Assert.Contains("Open nothing that is energised", asked.Message);
    }

    void Run(double minutes)
    {
        for (var second = 0; second < 60 * minutes; second++)
        {
            dock.Run(TimeSpan.FromSeconds(1));
            changes.AddRange(dock.Last.Advice.Changes);
        }
    }
}
