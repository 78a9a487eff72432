using Farberth.Planning.Flow;
using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

public class DockLineTests
{
    /// <summary>At the plan itself it is the load flow in every hour; about another plan of the same boats its volts are within 0.2 %.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_line_through_a_plan_agrees_with_the_load_flow_there_and_near_it(int seed)
    {
        var random = new Random(seed);
        var site = InventedMarina.Site(1, 40, random);
        var problem = new PlacementProblem(site, InventedMarina.List(site, 16, 3, 0.3, random));
        var (plan, other) = (GreedyPlan.Of(problem), FirstCome.Of(problem));
        var dock = problem.Docks[0];
        var line = new DockLine(dock, plan);
        foreach (var slot in Enumerable.Range(0, problem.Slots.Count))
        {
            Assert.Equal(dock.Flow(slot, plan.On(dock)).Values, Values(line, plan, slot), new Near(1e-9));
            Assert.Equal(Volts(dock, dock.Flow(slot, other.On(dock)).Values), Volts(dock, Values(line, other, slot)), new Near(0.002));
        }

        IEnumerable<double> Values(DockLine line, Plan plan, int slot) => Enumerable.Range(0, dock.Case.Limits.Count).Select(limit =>
            line.Without(slot)[limit] + plan.On(dock).Sum(pair => line.Effect(pair.Berth)[limit] * pair.Guest.Amps[slot]));
    }

    static IEnumerable<double> Volts(DockProblem dock, IEnumerable<double> values) =>
        dock.Case.Limits.Zip(values).Where(pair => pair.First.Kind == LimitKind.Volts).Select(pair => pair.Second);

    sealed class Near(double share) : IEqualityComparer<double>
    {
        public bool Equals(double x, double y) => Math.Abs(x - y) <= share * Math.Abs(x);

        public int GetHashCode(double obj) => 0;
    }
}
