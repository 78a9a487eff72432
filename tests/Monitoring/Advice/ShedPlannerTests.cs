using CsCheck;
using Farberth.Grid.Network;
using Farberth.Monitoring.Advice;

namespace Farberth.Monitoring.Tests.Advice;

/// <summary>The planner against every set of requests there is, each tried in the full load flow of a small dock.</summary>
public class ShedPlannerTests
{
    const double TenthOfAVolt = 0.001;
    const double Rounding = 1e-4;

    [Fact]
    public void On_small_docks_it_asks_for_at_most_a_tenth_more_than_the_best_of_all_sets_give_or_take_half_an_amp()
    {
        var (planned, least, tried) = (0.0, 0.0, 0);
        Cases.Sample(one =>
        {
            var (planner, limits, held, askable) = Given(one);
            if (held.Count == 0)
                return;
            var coming = new double[askable.Count];
            var plan = planner.Plan(held, coming, askable);
            var sets = Sets(askable).Select(set => (Amps: set.Sum(), Spare: Spare(planner, limits, held, coming, set))).ToList();
            Assert.All(plan.Amps.Zip(askable), pair => Assert.True(pair.First <= pair.Second.MostAmps + 1e-9));
            var isMet = Spare(planner, limits, held, coming, plan.Amps) >= -Rounding;
            Assert.True(isMet || !sets.Any(set => set.Spare > TenthOfAVolt), "a set would do");
            if (!isMet || !sets.Any(set => set.Spare >= 0))
                return;
            var best = sets.Where(set => set.Spare >= 0).Min(set => set.Amps);
            Assert.InRange(plan.Amps.Sum(), 0, 1.10 * best + ShedPlanner.StepAmps);
            (planned, least, tried) = (planned + plan.Amps.Sum(), least + best, tried + 1);
        }, iter: 350, threads: 1);
        TestContext.Current.TestOutputHelper!.WriteLine($"{tried} docks, {planned} A planned, {least} A at least");
        Assert.InRange(planned, 0, 1.10 * least);
        Assert.True(tried >= 8, $"only {tried} docks could be brought back");
    }

    /// <summary>An amp less on L1 lifts L1 and, through the neutral, lowers L2: half of the loop is the neutral.</summary>
    [Fact]
    public void An_amp_less_on_one_leg_costs_the_other_leg_half_of_what_it_brings()
    {
        var (planner, limits, _, askable) = Given(new([20, 20, 10, 10, 10, 20, 20], 116, 116, [0, 0, 0, 0, 0, 0, 0]));
        var levers = askable.Count;
        double Margin(string id, double shed) => planner.Margins([.. Enumerable.Range(0, levers).Select(at => at == levers - 2 ? shed : 0)])[limits.ToList().FindIndex(limit => limit.Id == id)];
        var (own, other) = (Margin("volts B3 L1", 0) - Margin("volts B3 L1", 5), Margin("volts B3 L2", 0) - Margin("volts B3 L2", 5));
        Assert.True(own > 0);
        Assert.InRange(other / own, -0.55, -0.35); // transformer and answers to volts take a little off the half
    }

    sealed record Case(double[] Amps, double FarVolts1, double FarVolts2, double[] Most);

    static readonly Gen<Case> Cases =
        from amps in Gen.Double[5, 25.5].Array[7]
        from far1 in Gen.Double[105.3, 107.5]
        from far2 in Gen.Double[105.3, 107.5]
        from most in Gen.Double[3, 6].Array[7]
        from asked in Gen.Shuffle(Enumerable.Range(0, 7).ToArray(), 4)
        select new Case(amps, far1, far2, [.. most.Select((one, at) => asked.Contains(at) ? one : 0)]);

    static (ShedPlanner, IReadOnlyList<Limit>, IReadOnlyList<Limit> Held, IReadOnlyList<Askable>) Given(Case one)
    {
        var a = one.Amps;
        double Volts(double far, double share) => 119 - share * (119 - far);
        var dock = new TestDock()
            .Say("B1", Volts(one.FarVolts1, 0.45), Volts(one.FarVolts2, 0.45), ("A", Leg.L1, a[0]), ("B", Leg.L2, a[1]))
            .Say("B2", Volts(one.FarVolts1, 0.8), Volts(one.FarVolts2, 0.8), ("A", Leg.L1, a[2]), ("B", Leg.L1, a[3]), ("B", Leg.L2, a[4]))
            .Say("B3", one.FarVolts1, one.FarVolts2, ("A", Leg.L1, a[5]), ("B", Leg.L2, a[6]))
            .Run(TimeSpan.FromSeconds(11));
        var picture = dock.Last.Picture;
        var levers = Lever.Of(picture, new EssentialBase());
        var limits = AdviceLimits.Of(picture, levers);
        return (new ShedPlanner(picture, new DockModel(picture, levers), limits, _ => 0), limits,
            [.. limits.Where(limit => limit.Now > 0 && (limit.Outlet == null || CanAlone(limit, one.Most[levers.ToList().IndexOf(limit.Outlet)])))], [.. one.Most.Select(most => new Askable(most, 1))]);
    }

    /// <summary>An outlet's own limit is its own boat's affair; where that cannot do it, it is no case for this test.</summary>
    static bool CanAlone(Limit limit, double mostAmps) =>
        limit.Outlet!.Amps * (1 - (1 - TestDock.Site.AlarmTimings[limit.Kind].Deadband) / (1 + limit.Now)) <= Choices(mostAmps).Max();

    /// <summary>By how much the worst limit is better than it must be, as a share; below 0: it is not met.</summary>
    static double Spare(ShedPlanner planner, IReadOnlyList<Limit> limits, IReadOnlyList<Limit> held, double[] coming, double[] shed)
    {
        var (before, after) = (planner.Margins(coming), planner.Margins(shed));
        return limits.Index().Min(limit => held.Contains(limit.Item) ? -planner.Deadband(limit.Index) - after[limit.Index]
            : before[limit.Index] > 0 ? double.PositiveInfinity : -after[limit.Index]);
    }

    static IEnumerable<double[]> Sets(IReadOnlyList<Askable> askable) => askable.Aggregate((IEnumerable<double[]>)[[]], (sets, lever) => sets.SelectMany(set =>
        Choices(lever.MostAmps).Select(amps => (double[])[.. set, amps])));

    static IEnumerable<double> Choices(double most)
    {
        yield return 0;
        for (var amps = ShedPlanner.LeastAmps; amps <= most + 1e-9; amps += ShedPlanner.StepAmps)
            yield return amps;
    }
}
