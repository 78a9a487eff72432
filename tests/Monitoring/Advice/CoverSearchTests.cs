using CsCheck;
using Farberth.Monitoring.Advice.Covering;

namespace Farberth.Monitoring.Tests.Advice;

/// <summary>The smallest set of requests, against every set that there is.</summary>
public class CoverSearchTests
{
    /// <summary>Far-end volts of two neighbours on one leg, the other leg's, an outlet's own amps; some amps cost the other leg volts.</summary>
    static readonly Gen<CoverProblem> Small =
        from levers in Gen.Int[1, 6]
        from limits in Gen.Int[1, 4]
        from effect in Gen.Double[-0.05, 0.3].Array[levers].Array[limits]
        from needed in Gen.Double[0.1, 3].Array[limits]
        from weight in Gen.Double[1, 1.04].Array[levers]
        from most in Gen.Double[0, 7].Array[levers]
        from grouping in Gen.Int[1, 3]
        select new CoverProblem(effect, needed, weight, most, [.. Enumerable.Range(0, levers).Select(lever => lever / grouping)], 0.08, 2, 1);

    [Fact]
    public void On_small_docks_it_is_the_cheapest_set_or_within_one_percent() => Small.Sample(problem =>
    {
        var (cover, cheapest) = (CoverSearch.Solve(problem), Everything(problem).Where(problem.IsMet).Select(problem.Cost).DefaultIfEmpty(double.NaN).Min());
        Assert.Equal(!double.IsNaN(cheapest), cover.IsMet);
        if (!cover.IsMet)
            return;
        Assert.True(problem.IsMet(cover.Amps));
        Assert.Equal(problem.Cost(cover.Amps), cover.Cost, 1e-9);
        Assert.InRange(cover.Cost, cheapest - 1e-9, 1.01 * cheapest + 1e-9);
        Assert.True(cover.LeastCost <= cheapest + 1e-9, $"the bound {cover.LeastCost} is above {cheapest}");
    }, iter: 300);

    /// <summary>The weights and the charge for a group never cost more than 8 % of amps: 4 % each, since nobody is asked for less than 2 A.</summary>
    [Fact]
    public void Fairness_never_costs_more_than_a_tenth_of_the_amps() => Small.Sample(problem =>
    {
        var cover = CoverSearch.Solve(problem);
        if (cover.IsMet)
            Assert.True(cover.Amps.Sum() <= 1.10 * Everything(problem).Where(problem.IsMet).Min(amps => amps.Sum()) + 1e-9);
    }, iter: 300);

    [Fact]
    public void A_lever_is_asked_for_nothing_or_for_a_whole_step_between_the_least_and_the_most() => Small.Sample(problem =>
        Assert.All(CoverSearch.Solve(problem).Amps.Index(), amps => Assert.Contains(amps.Item, problem.Choices(amps.Index))), iter: 300);

    [Fact]
    public void Of_two_alike_the_one_who_was_asked_before_is_left_alone()
    {
        var problem = new CoverProblem([[0.2, 0.2]], [1], [1.04, 1], [12, 12], [0, 1], 0.08, 2, 0.5);
        Assert.Equal([0, 5], CoverSearch.Solve(problem).Amps);
    }

    [Fact]
    public void One_boat_is_asked_rather_than_two()
    {
        var problem = new CoverProblem([[0.2, 0.2, 0.2]], [1], [1, 1, 1], [3, 3, 6], [0, 1, 2], 0.08, 2, 0.5);
        Assert.Equal([0, 0, 5], CoverSearch.Solve(problem).Amps);
    }

    /// <summary>A dock of sixty outlets whose effects are nearly alike has very many sets of nearly the same cost: it ends all the same.</summary>
    [Fact]
    public void A_large_dock_is_solved_within_a_few_percent_of_what_no_set_can_undercut()
    {
        var worst = 0.0;
        foreach (var seed in Enumerable.Range(0, 40))
        {
            var cover = CoverSearch.Solve(Large(new Random(seed)));
            Assert.True(cover.IsMet);
            worst = Math.Max(worst, cover.Cost / cover.LeastCost - 1);
        }
        TestContext.Current.TestOutputHelper!.WriteLine($"at most {worst:P1} above the bound");
        Assert.InRange(worst, 0, 0.08);
    }

    static CoverProblem Large(Random random)
    {
        double Between(double low, double high) => low + (high - low) * random.NextDouble();
        var levers = Enumerable.Range(0, 120).ToArray();
        double Effect(int limit, int lever) => lever % 2 == limit % 2 ? 0.002 * Math.Min(lever, 119 - limit) : -0.0006 * lever;
        return new(
            [.. Enumerable.Range(0, 8).Select(limit => levers.Select(lever => Effect(limit, lever)).ToArray())],
            [.. Enumerable.Range(0, 8).Select(_ => Between(0.5, 3))],
            [.. levers.Select(_ => Between(1, 1.04))], [.. levers.Select(_ => Between(0, 14))], [.. levers.Select(lever => lever / 2)], 0.08, 2, 0.5);
    }

    static IEnumerable<double[]> Everything(CoverProblem problem) => Enumerable.Range(0, problem.Levers).Aggregate(
        (IEnumerable<double[]>)[[]], (sets, lever) => sets.SelectMany(set => problem.Choices(lever).Select(amps => (double[])[.. set, amps])));
}
