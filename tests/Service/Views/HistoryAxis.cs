using Chart = Farberth.Service.Office.Bench.History;

namespace Farberth.Service.Tests.Views;

public class HistoryAxis
{
    [Theory]
    [InlineData(120.4, 120.4, 119, 122)]
    [InlineData(120, 120, 119, 121)]
    [InlineData(0, 0, 0, 1)]
    [InlineData(111.2, 121.7, 111, 122)]
    [InlineData(0, 27.2, 0, 28)]
    public void The_axis_of_a_chart_over_time_holds_what_is_there_and_little_more(double least, double most, double from, double to) =>
        Assert.Equal((from, to), Chart.Ends([new(least, least, least), new(least, most, most)]));

    [Fact]
    public void Where_nothing_is_there_it_has_an_axis_all_the_same() => Assert.Equal((0, 1), Chart.Ends([]));
}
