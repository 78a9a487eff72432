using System.Globalization;
using Farberth.Monitoring.Advice;

namespace Farberth.HotAfternoon.Tests.Advice;

/// <summary>
/// Whole afternoons with the loop closed. "Needed": without requests the lowest volts of the dock, as means of a minute, stay below the limit for longer
/// than the raise delay and the patience together, 11 min. "Possible": they never do when everybody aboard has everything off that can wait.
/// "Kept": with requests they are never below it for longer than those 11 min at a stretch.
/// </summary>
public class AdviceFollowed(ITestOutputHelper output)
{
    const int Afternoons = 40;
    const long FirstSeed = 2001;
    const int AtOnce = 8;

    static readonly TimeSpan Allowed = TimeSpan.FromMinutes(11);

    static double LowVolts => AdviceLimits.LowVolts(HotAfternoons.OnlyVolts);

    [Fact]
    public void An_afternoon_that_sags_for_an_hour_is_kept_above_the_band_when_people_do_as_they_are_asked()
    {
        var scenario = HotAfternoons.Of(1);
        scenario = scenario with { Start = scenario.Start.Date.AddHours(15), End = scenario.Start.Date.AddHours(17.75) };
        var (deaf, follow) = (Run(scenario, People.Deaf), Run(scenario, People.Follow));
        output.WriteLine($"{Told(deaf)} | {Told(follow)}");
        Assert.True(deaf.LongestBelow(LowVolts) > 2 * Allowed);
        Assert.InRange(follow.LongestBelow(LowVolts), TimeSpan.Zero, Allowed);
        var amps = follow.Plans.Select(AmpsOf).ToList();
        Assert.InRange(amps.Sum(one => one.Planned), 0.9 * amps.Sum(one => one.Least), 1.10 * amps.Sum(one => one.Least));
        Assert.Contains(follow.Changes, change => change.Advice is { Ask: Ask.Shed, Amps: >= 2 });
    }

    /// <summary>
    /// Forty afternoons that no setting was chosen on. Built in Release, in the folder of the built tests:
    ///   ./Farberth.HotAfternoon.Tests -class Farberth.HotAfternoon.Tests.Advice.AdviceFollowed -explicit only -showLiveOutput
    /// </summary>
    [Fact(Explicit = true)]
    public void Forty_held_out_afternoons()
    {
        var (kept, ignoring, amps, first) = (new List<bool>(), new List<bool>(), new List<(double Planned, double Least)>(), new List<(double Planned, double? Least, double? Margin)>());
        for (var seed = FirstSeed; kept.Count < Afternoons; seed += AtOnce)
        {
            var batch = new Afternoon?[AtOnce];
            var start = seed;
            Parallel.For(0, AtOnce, new ParallelOptions { MaxDegreeOfParallelism = 2 }, at => batch[at] = Play(start + at));
            foreach (var one in batch.OfType<Afternoon>().Take(Afternoons - kept.Count))
            {
                kept.Add(one.Follow.LongestBelow(LowVolts) <= Allowed);
                amps.AddRange(one.Follow.Plans.Select(AmpsOf));
                first.Add(one.Follow.First!.Value);
                if (one.Ignoring is { } some)
                    ignoring.Add(some.LongestBelow(LowVolts) <= Allowed);
            }
        }
        Tell(amps, first);
        output.WriteLine($"kept {kept.Count(one => one)} of {kept.Count}; one in five ignoring: {ignoring.Count(one => one)} of {ignoring.Count}");
        Assert.True(kept.Count(one => one) >= 0.95 * kept.Count);
        Assert.True(amps.Sum(one => one.Planned) <= 1.10 * amps.Sum(one => one.Least));
    }

    sealed record Afternoon(ClosedLoop Follow, ClosedLoop? Ignoring);

    /// <returns>Null where nothing is needed, or nothing does.</returns>
    Afternoon? Play(long seed)
    {
        var scenario = HotAfternoons.Of(seed);
        var deaf = Run(scenario, People.Deaf);
        var isPossible = Run(scenario, People.WithoutAnything).LongestBelow(LowVolts) == TimeSpan.Zero;
        if (deaf.LongestBelow(LowVolts) <= Allowed || !isPossible)
        {
            output.WriteLine($"{seed}: {(isPossible ? "not needed" : "not possible")}: {Told(deaf)}");
            return null;
        }
        var follow = Run(scenario, People.Follow);
        var ignoring = seed % AtOnce == FirstSeed % AtOnce ? Run(scenario, People.Follow with { IgnoresShare = 0.2 }) : null;
        output.WriteLine($"{seed}: {Told(deaf)} | {Told(follow)}, {follow.Plans.Count} plans, first {follow.First}"
            + (ignoring is null ? "" : $" | one in five ignores it: {Told(ignoring)}"));
        return new(follow, ignoring);
    }

    void Tell(List<(double Planned, double Least)> amps, List<(double Planned, double? Least, double? Margin)> first)
    {
        var ratios = amps.Select(one => one.Planned / one.Least).Order().ToList();
        var known = first.Where(one => one.Margin > 0).ToList();
        output.WriteLine(Text($"{amps.Count} plans: {amps.Sum(one => one.Planned):0.0} A asked, {amps.Sum(one => one.Least):0.0} A at least, median {ratios[ratios.Count / 2]:0.000}, of 95 % {ratios[(int)(0.95 * ratios.Count)]:0.000}, most {ratios[^1]:0.000}"));
        output.WriteLine(Text($"first plans against the true dock: {known.Sum(one => one.Planned):0.0} A asked, {known.Sum(one => one.Margin):0.0} A at least with the same margin, {known.Sum(one => one.Least):0.0} A without"));
    }

    /// <summary>What a plan asks for, and the least of the linear program with the same limits, effects and discretionary amps.</summary>
    static (double Planned, double Least) AmpsOf(PlannedShed plan)
    {
        var problem = plan.Plan.Problem!;
        var least = LeastAmps.Plan(problem.Effect, problem.Needed, problem.Most, ShedPlanner.LeastAmps)?.Sum();
        Assert.NotNull(least);
        return (plan.Plan.Amps.Sum(), least.Value);
    }

    static ClosedLoop Run(Scenario scenario, People people) => new(HotAfternoons.OnlyVolts, scenario, people);

    static string Told(ClosedLoop loop) => Text(
        $"lowest {loop.Lowest.Min(one => one.Volts):0.0} V, below for {loop.MinutesBelow(LowVolts):0} min, at most {loop.LongestBelow(LowVolts).TotalMinutes:0.0} at a stretch, {loop.Changes.Count(change => change is { TakenBack: null, Advice.Ask: Ask.Shed })} requests");

    static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
