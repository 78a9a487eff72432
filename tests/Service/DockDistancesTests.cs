using Farberth.Service.Views;

namespace Farberth.Service.Tests;

public class DockDistancesTests
{
    // source -60 m- Q1 -20 m- Q2 -20 m- Q3, and Q2 -30 m- Q4.
    readonly DockDistances along = new(Given.FourPosts().Docks["Q"]);

    [Fact]
    public void Distance_is_the_sum_of_the_cables_from_the_source() =>
        Assert.Equal([0, 60, 80, 100, 110], new[] { "source", "Q1", "Q2", "Q3", "Q4" }.Select(along.Metres));

    [Fact]
    public void The_first_run_leads_furthest_and_a_branch_is_a_run_of_its_own() =>
        Assert.Equal([["Q1", "Q2", "Q4"], ["Q3"]], along.Runs);

    [Fact]
    public void Every_pedestal_stands_in_one_run() => Assert.Equal(["Q1", "Q2", "Q4", "Q3"], along.Pedestals);

    [Fact]
    public void Before_a_pedestal_comes_the_next_one_inwards_or_the_source() =>
        Assert.Equal(["source", "Q1", "Q2", "Q2"], new[] { "Q1", "Q2", "Q3", "Q4" }.Select(along.Before));
}
