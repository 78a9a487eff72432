using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.Network;

public class FeederTree
{
    [Fact]
    public void Branches_may_come_in_any_order_and_a_bus_comes_after_the_one_that_feeds_it()
    {
        var feeder = Build(("B", "C"), ("source", "A"), ("A", "F1"), ("A", "B"), ("F1", "F2"));
        Assert.Equal(["source", "A", "F1", "F2", "B", "C"], feeder.Buses);
        Assert.Equal(["C", "B", "A"], feeder.PathTo("C").Select(branch => branch.To));
    }

    [Theory]
    [InlineData("fed twice", "source>A", "source>B", "A>B")]
    [InlineData("not reached", "source>A", "B>C", "C>B")]
    public void What_is_not_a_tree_is_refused(string reason, params string[] branches)
    {
        var refused = Assert.Throws<ArgumentException>(() => Build([.. branches.Select(b => (b[..b.IndexOf('>')], b[(b.IndexOf('>') + 1)..]))]));
        Assert.Contains(reason, refused.Message);
    }

    static Feeder Build(params (string From, string To)[] branches) => new(
        SupplySystem.SinglePhase230, "source", new PerLeg(230, 0, 0),
        branches.Select(branch => new Branch(branch.From, branch.To, ImpedanceMatrix.Zero)));
}
