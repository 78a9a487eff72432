using System.Diagnostics;
using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

/// <summary>
/// What docs/algorithms/planning-placement.md says of speed and proof. Takes minutes and depends on the machine, so it is run by hand, in the output
/// folder: ./Farberth.Planning.Tests -explicit only -showLiveOutput -class Farberth.Planning.Tests.Placement.PlacementAtScale
/// </summary>
public class PlacementAtScale(ITestOutputHelper output)
{
    /// <summary>How many times as long the clock may run as the processor, which is what is given: 1 on a machine with nobody else on it.</summary>
    const int Crowd = 5;

    /// <summary>200 slips and 40 arrivals over 7 days in 10 s, 500 and 100 over 14 days in 30 s; 23 to 42 and 13 to 20 were not looked at while the search was made.</summary>
    public static TheoryData<int, int, int, int, int> Lists() => new(
        Enumerable.Range(1, 42).Where(seed => seed is <= 12 or >= 22).Select(seed => (4, 40, 7, 10, seed)).Concat(Enumerable.Range(1, 20).Where(seed => seed is <= 8 or >= 13).Select(seed => (10, 100, 14, 30, seed))));

    [Theory(Explicit = true)]
    [MemberData(nameof(Lists))]
    public void Places_many_boats(int docks, int arrivals, int days, int processorSeconds, int seed)
    {
        var random = new Random(seed);
        var site = InventedMarina.Site(docks, 50, random);
        var list = InventedMarina.List(site, arrivals, days, 0.4, random);
        var (workedBefore, began) = (Process.GetCurrentProcess().TotalProcessorTime, Stopwatch.GetTimestamp());
        (double Clock, double Processor)? within = null, done = null;
        (double, double) Now() => (Stopwatch.GetElapsedTime(began).TotalSeconds, (Process.GetCurrentProcess().TotalProcessorTime - workedBefore).TotalSeconds);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        using var watch = new Timer(_ =>
        {
            if (Now().Item2 > processorSeconds)
                stop.Cancel();
        }, null, 0, 200);
        var answer = Planner.Place(site, list, new(TimeSpan.FromSeconds(processorSeconds * Crowd), 1, TimeProvider.System, 1), progress: at =>
        {
            if (at is PlacementProgress.Sag sag && sag.SagVolts <= 1.02 * sag.BoundVolts)
                within ??= Now();
            if (at is PlacementProgress.Rest)
            {
                done ??= Now();
                watch.Change(Timeout.Infinite, Timeout.Infinite);
            }
        }, stop: stop.Token);
        var (clock, processor) = done ?? Now();
        var proof = answer.Proof;
        output.WriteLine(FormattableString.Invariant(
            $"{docks * 50} slips, {arrivals} arrivals, seed {seed}: {processor:0.0} s of processors, {clock:0.0} s; within 2 % after {within?.Processor:0.0} s of processors; {proof.SagVolts:0.00} V, bound {proof.BoundVolts:0.00} V, gap {proof.SagVolts / proof.BoundVolts - 1:P1}, proven {proof.IsProven}, {proof.Rounds} rounds, {answer.Refused.Count} refused"));
        Assert.True(answer.Placed.Count + answer.Refused.Count == arrivals);
    }

    [Theory(Explicit = true)]
    [InlineData(1)]
    [InlineData(2)]
    public void Ranks_one_boat(int seed)
    {
        var random = new Random(seed);
        var site = InventedMarina.Site(10, 50, random);
        var list = InventedMarina.List(site, 1, 7, 0.4, random);
        for (var time = 0; time < 9; time++)
        {
            var (workedBefore, began) = (Process.GetCurrentProcess().TotalProcessorTime, Stopwatch.GetTimestamp());
            var ranked = Planner.Rank(site, list, list.Arrivals[0]);
            output.WriteLine(FormattableString.Invariant($"{ranked.Offers.Count} slips offered, {ranked.Refusals.Count} refused, in {Stopwatch.GetElapsedTime(began).TotalMilliseconds:0} ms, {(Process.GetCurrentProcess().TotalProcessorTime - workedBefore).TotalMilliseconds:0} ms of processors"));
        }
    }
}
