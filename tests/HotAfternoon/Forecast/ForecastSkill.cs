using Farberth.Grid.Network;
using Farberth.Monitoring.Forecast;

namespace Farberth.HotAfternoon.Tests.Forecast;

/// <summary>The afternoon ahead against simulated weeks that nothing was tuned on.</summary>
public class ForecastSkill(ITestOutputHelper output)
{
    /// <summary>
    /// Two weeks to learn, one to be judged by, every hour of it, horizons 1 to 24 h, truth of the simulator. Some minutes a seed:
    /// dotnet test -c Release --project tests/HotAfternoon --filter-method *Held_out_weeks* -- -explicit only
    /// </summary>
    [Fact(Explicit = true)]
    public void Held_out_weeks_beat_now_and_yesterday_by_a_quarter_and_the_bands_hold()
    {
        var all = Kinds();
        for (var seed = 101; seed <= 108; seed++)
            Judge(all, Weeks.Run(Weeks.Scenario(seed, 21), Weeks.Site), fromDay: 14, everyHours: 1, outletsEvery: 4);
        Check(all);
    }

    static Dictionary<string, Comparison> Kinds() => new[] { "kva", "amps", "volts", "outlets" }.ToDictionary(kind => kind, kind => new Comparison(kind));

    void Check(Dictionary<string, Comparison> all)
    {
        foreach (var kind in all.Values)
            output.WriteLine($"{kind}");
        Assert.All(all.Values, kind => Assert.InRange(kind.Held, 0.85, 0.95));
        Assert.All(all.Values, kind => Assert.True(kind.BetterThanAll >= 0.25, $"{kind}"));
    }

    internal static void Judge(Dictionary<string, Comparison> all, Weeks weeks, int fromDay, int everyHours, int outletsEvery)
    {
        var first = weeks.Said.Keys.First();
        foreach (var (now, said) in weeks.Said.Where(pair => pair.Key >= first + 96 * fromDay && pair.Key % (4 * everyHours) == first % (4 * everyHours)))
            for (var at = 0; at < said.Hours.Count; at++)
                if (said.Hours[at].MinutesAhead % 60 == 0)
                    Judge(all, weeks, now, said, at, outletsEvery);
    }

    static void Judge(Dictionary<string, Comparison> all, Weeks weeks, long now, DockForecast said, int at, int outletsEvery)
    {
        var (hour, ahead) = (said.Hours[at], said.Hours[at].MinutesAhead / 15);
        all["kva"].Add(weeks.Came["kva"], now, ahead, hour.KilovoltAmperes);
        all["volts"].Add(weeks.Came["volts"], now, ahead, hour.Volts);
        foreach (var leg in Weeks.Site.Supply.Legs)
            all["amps"].Add(weeks.Came[$"amps {leg}"], now, ahead, hour.Amps[leg]);
        var number = 0;
        foreach (var (key, outlet) in said.Outlets)
            foreach (var (leg, horizons) in outlet.ByLeg)
                if (number++ % outletsEvery == 0 && weeks.Came[Weeks.Name(key, leg)].Values.Any(amps => amps > 0.5))
                    all["outlets"].Add(weeks.Came[Weeks.Name(key, leg)], now, ahead, horizons[at]);
    }
}
