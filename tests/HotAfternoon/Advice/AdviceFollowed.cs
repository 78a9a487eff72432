using System.Globalization;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon.Tests.Advice;

public class AdviceFollowed(ITestOutputHelper output)
{
    [Fact(Explicit = true)]
    public void Tuning()
    {
        var (planned, least) = (0.0, 0.0);
        var ratios = new List<double>();
        foreach (var seed in Enumerable.Range(1, 6))
        {
            var v = AdviceLimits.LowVolts(HotAfternoons.OnlyVolts);
            ClosedLoop Run(People people) => new(HotAfternoons.OnlyVolts, HotAfternoons.Of(seed), people);
            var (deaf, nothing, follow) = (Run(People.Deaf), Run(People.WithoutAnything), Run(People.Follow));
            string Of(ClosedLoop loop) => string.Create(CultureInfo.InvariantCulture, $"min {loop.Lowest.Min(one => one.Volts):0.0} below {loop.MinutesBelow(v):0} min, longest {loop.LongestBelow(v).TotalMinutes:0.0}");
            output.WriteLine($"{seed}: deaf {Of(deaf)} | off {Of(nothing)} | follow {Of(follow)}; asked {follow.Changes.Count(c => c.TakenBack == null)}, plans {follow.Plans.Count}, short {follow.Short.Count}; first {follow.First}");
            foreach (var plan in follow.Plans)
            {
                var p = plan.Plan.Problem!;
                var optimum = LeastAmps.Plan(p.Effect, p.Needed, p.Most, 2)?.Sum();
                output.WriteLine($"   plan {plan.At.AddHours(-4):HH:mm:ss} {plan.Plan.Amps.Sum():0.0} optimum {optimum:0.00} lp {LeastAmps.Of(p.Effect, p.Needed, p.Most):0.00} limits {p.Limits} levers {p.Levers} used {plan.Plan.Amps.Count(a => a > 0)}");
                if (optimum is { } o) { planned += plan.Plan.Amps.Sum(); least += o; ratios.Add(plan.Plan.Amps.Sum() / o); }
            }
            foreach (var change in follow.Changes)
                output.WriteLine($"   {change.At.AddHours(-4):HH:mm:ss} {change.Slip} {change.Advice.Ask} {change.Advice.Amps} {change.TakenBack ?? change.Advice.Why}");
        }
        ratios.Sort();
        output.WriteLine($"planned {planned:0.0} least {least:0.0} ratio {planned / least:0.000} median {ratios[ratios.Count / 2]:0.000} p95 {ratios[(int)(ratios.Count * .95)]:0.000} max {ratios[^1]:0.000}");
    }
}
