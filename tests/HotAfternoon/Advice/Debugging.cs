using System.Globalization;
namespace Farberth.HotAfternoon.Tests.Advice;
public class Debugging(ITestOutputHelper output)
{
    [Fact(Explicit = true)]
    public void Some()
    {
        foreach (var seed in new long[] { 1003, 1001, 1002, 1, 5, 6, 2, 4, 1004, 1005 })
        {
            var loop = new ClosedLoop(HotAfternoons.OnlyVolts, HotAfternoons.Of(seed), People.Follow);
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{seed} longest {loop.LongestBelow(108).TotalMinutes:0.0} below {loop.MinutesBelow(108):0} lowest {loop.Lowest.Min(l => l.Volts):0.0} asked {loop.Plans.Sum(p => p.Plan.Amps.Sum()):0} A plans {loop.Plans.Count} first {loop.First}"));
        }
    }
}
