using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Tests.Learning;

public class WeekOfHoursTests
{
    static readonly DateTimeOffset Start = new(2027, 7, 17, 0, 0, 0, TimeSpan.Zero);

    [Fact]
    public void The_highest_hour_is_a_mean_and_not_a_peak()
    {
        var week = new WeekOfHours();
        Assert.Equal(0, week.Highest);
        foreach (var (minute, value) in new[] { (0, 10.0), (30, 30.0), (60, 15.0), (119, 17.0) })
            week.Add(Start.AddMinutes(minute), value);
        Assert.Equal(20, week.Highest);
    }

    [Theory]
    [InlineData(6.9, 100)]
    [InlineData(7.1, 1)]
    [InlineData(40, 1)]
    public void After_a_week_it_is_forgotten(double days, double expected)
    {
        var week = new WeekOfHours();
        week.Add(Start, 100);
        week.Add(Start.AddDays(days), 1);
        Assert.Equal(expected, week.Highest);
    }
}
