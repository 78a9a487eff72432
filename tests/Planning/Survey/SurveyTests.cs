using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Survey;

namespace Farberth.Planning.Tests.Survey;

public class SurveyTests
{
    /// <summary>A quarter-hour is a mean over time: 10 A for 5 minutes and 25 A for 10 make 20 A, whatever the number of readings.</summary>
    [Fact]
    public void A_quarter_hour_is_the_mean_over_time()
    {
        var history = Recorded.Of(30, (_, outlet, minute) => outlet == "B" ? 0 : minute % 15 < 5 ? 10 : 25);
        Assert.Equal(2, history.Whole.Count);
        Assert.All(history.Whole, quarter => Assert.Equal(20, quarter.Draws.First(draw => draw.Outlet.Name == "A").Amps, 1e-9));
    }

    [Fact]
    public void A_reading_that_comes_twice_or_late_changes_nothing()
    {
        var builder = new HistoryBuilder(Recorded.Site, Recorded.Dock);
        var pedestal = Recorded.Dock.Pedestals["R1"];
        for (var minute = 0; minute <= 15; minute++)
        {
            builder.Take(Recorded.Reading(pedestal, Recorded.Start.AddMinutes(minute), 120, _ => 12));
            builder.Take(Recorded.Reading(pedestal, Recorded.Start.AddMinutes(minute - 1), 120, _ => 30));
        }
        Assert.All(builder.Build().Quarters[0].Draws, draw => Assert.Equal(12, draw.Amps, 1e-9));
    }

    [Fact]
    public void Silence_is_unknown_and_not_zero()
    {
        var history = Recorded.Of(60, (pedestal, _, minute) => pedestal == "R3" && minute is > 15 and < 32 ? double.NaN : 10);
        Assert.Equal(3, history.Whole.Count);
        Assert.Equal(4, history.Quarters.Count);
    }

    /// <summary>
    /// NEC 220.87: the highest 15 minutes times 125 %. All four A outlets at 20 A for one quarter: 80 A on L1, hence 100 A; losses are in the
    /// kVA, so they are a little above 80 A × 120 V = 9.6 kVA.
    /// </summary>
    [Fact]
    public void The_demand_is_125_percent_of_the_highest_quarter_hour()
    {
        var history = Recorded.Of(180, (_, outlet, minute) => outlet == "A" && minute is >= 60 and < 75 ? 20 : 2);
        var survey = LoadSurvey.Of(Recorded.Site, history, isSubmetered: false)!;
        Assert.Equal(Leg.L1, survey.MaximumLeg);
        Assert.Equal(Recorded.Start.AddHours(1), survey.MaximumAmpsAt);
        Assert.Equal(80, survey.MaximumAmps, 0.1);
        Assert.InRange(survey.MaximumVoltAmperes, 80 * 120 + 8 * 120 * 0.9, 80 * 120 * 1.12 + 8 * 120);
        Assert.Equal(1.25 * survey.MaximumVoltAmperes, survey.DemandVoltAmperes, 1e-9);
        Assert.Equal(1.25 * 80 / 225, survey.Limits.First(limit => limit.What == "feeder breaker").UsedShare, 0.001);
        // The table beside it: 8 receptacles of 30 A × 120 V at 90 %.
        Assert.Equal(8 * 3600 * 0.9, survey.Table.VoltAmperes, 1e-6);
    }

    [Fact]
    public void What_the_record_does_not_cover_is_said()
    {
        var short_ = LoadSurvey.Of(Recorded.Site, Recorded.Of(180, (pedestal, outlet, minute) =>
            pedestal == "R2" && minute > 100 ? double.NaN : outlet == "B" ? 0 : 5), isSubmetered: false)!;
        Assert.Contains(short_.NotCovered, gap => gap.Contains("220.87 asks for 30", StringComparison.Ordinal));
        Assert.Contains(short_.NotCovered, gap => gap.Contains("do not know the whole dock", StringComparison.Ordinal));
        Assert.Contains(short_.NotCovered, gap => gap.Contains("31 °C", StringComparison.Ordinal));
        Assert.Contains(short_.NotCovered, gap => gap.StartsWith("4 outlets never drew", StringComparison.Ordinal));
    }

    [Fact]
    public void A_record_without_a_whole_quarter_has_no_survey() =>
        Assert.Null(LoadSurvey.Of(Recorded.Site, Recorded.Of(60, (pedestal, _, _) => pedestal == "R1" ? double.NaN : 5), isSubmetered: false));

    /// <summary>Ten days of 12 A at noon and 2 A else: a week later it is expected so again.</summary>
    [Fact]
    public void The_usual_of_an_outlet_follows_the_hour()
    {
        var site = Recorded.Site with
        {
            Docks = new Dictionary<string, DockDefinition>
            {
                ["R"] = Recorded.Dock with
                {
                    Pedestals = Recorded.Dock.Pedestals.ToDictionary(pair => pair.Key, pair => pair.Value with
                    {
                        Outlets = pair.Value.Outlets.ToDictionary(outlet => outlet.Key, outlet => outlet.Value with { Slip = $"{pair.Key}-{outlet.Key}" }),
                    }),
                },
            },
        };
        var builder = new HistoryBuilder(site, site.Docks["R"]);
        for (var minute = 0; minute < 10 * 24 * 60; minute++)
            builder.Take(Recorded.Reading(site.Docks["R"].Pedestals["R1"], Recorded.Start.AddMinutes(minute), 120, _ => minute / 60 % 24 == 12 ? 12 : 2));
        var usual = new UsualLoads(site, [builder.Build()]);
        double At(int hour) => usual.Of("R1-A", new(Recorded.Start.AddDays(13).AddHours(hour), Recorded.Start.AddDays(13).AddHours(hour).DateTime, 20))![0].Amps;
        Assert.InRange(At(12), 9, 12.1);
        Assert.Equal(2, At(3), 0.01);
        Assert.Null(usual.Of("R2-A", new(Recorded.Start.AddDays(13), Recorded.Start.AddDays(13).DateTime, 20)));
    }
}
