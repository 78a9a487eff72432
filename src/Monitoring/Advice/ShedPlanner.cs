using Farberth.Monitoring.Advice.Covering;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Advice;

/// <summary>What of each lever may be asked, and at which weight.</summary>
/// <param name="MostAmps">0: nothing of it.</param>
sealed record Askable(double MostAmps, double Weight);

/// <param name="Amps">To ask, by lever.</param>
/// <param name="For">By lever, the limit that its request helps most, as a part of what that needs; null where nothing is asked.</param>
/// <param name="NotEnough">Limits that stay past all the same.</param>
/// <param name="Problem">Of the last round, for whoever wants to check it; null where nothing was needed.</param>
sealed record ShedPlan(double[] Amps, IReadOnlyList<Limit?> For, IReadOnlyList<Shortfall> NotEnough, CoverProblem? Problem);

/// <summary>
/// Finds whom to ask for how much. The effect of each lever on each limit comes from the load flow with one amp less of it; the integer
/// program picks the requests; the load flow of the whole set shows what is still missing or too much, and the needs are corrected
/// by that until the set does what it should. Brought back is a limit by its alarm's deadband, so that the alarm clears.
/// </summary>
/// <param name="rise">By how much a limit's margin will have risen when the boats have come down.</param>
sealed class ShedPlanner(DockPicture picture, DockModel model, IReadOnlyList<Limit> limits, Func<Limit, double> rise)
{
    /// <summary>Nobody walks to the panel for less (assumed), and nobody reads his panel more finely than the step.</summary>
    public const double LeastAmps = 2;
    public const double StepAmps = 0.5;

    /// <summary>4 % of the smallest request.</summary>
    const double SlipAmps = 0.04 * LeastAmps;

    /// <summary>Where all together do not do, those whose amp does less than this share of the best one's are left alone.</summary>
    const double WorthAsking = 0.2;

    const int MostRounds = 5;

    readonly double[] modelNow = [.. limits.Select(limit => limit.Model(new(model.Now, new double[model.Levers.Count])))];

    /// <summary>Margins of all limits, as shares, with some levers down.</summary>
    public double[] Margins(IReadOnlyList<double> shedAmps)
    {
        var after = new Modelled(model.Solve(shedAmps), shedAmps);
        return [.. limits.Select((limit, at) => limit.Now + limit.Model(after) - modelNow[at])];
    }

    public double Deadband(int limit) => picture.Site.AlarmTimings[limits[limit].Kind].Deadband;

    /// <param name="held">Limits to bring back.</param>
    /// <param name="coming">What was asked already and will come down soon, by lever.</param>
    public ShedPlan Plan(IReadOnlyList<Limit> held, double[] coming, IReadOnlyList<Askable> askable)
    {
        var before = Margins(coming);
        double Goal(int at) => held.Contains(limits[at]) ? -Deadband(at) - rise(limits[at]) : 0; // what was within its limit need only stay there
        var active = Enumerable.Range(0, limits.Count).Where(at => held.Contains(limits[at]) && before[at] > Goal(at)).ToList();
        var (best, bestCost) = (new double[model.Levers.Count], double.PositiveInfinity);
        CoverProblem? problem = null;
        var (asked, serves) = (best, new Limit?[best.Length]);
        for (var round = 0; round < MostRounds && active.Count > 0; round++)
        {
            var after = round == 0 ? before : Margins(Sum(coming, asked));
            active.AddRange(Enumerable.Range(0, limits.Count).Where(at => after[at] > 0 && before[at] <= 0 && !active.Contains(at)));
            var (effect, usable) = Effects(coming, before, active, askable);
            problem = Problem(effect, usable, active.ConvertAll(at => after[at] - Goal(at)), asked, askable);
            var cover = CoverSearch.Solve(problem);
            asked = new double[model.Levers.Count];
            foreach (var (at, lever) in usable.Index())
            {
                asked[lever] = cover.Amps[at];
                serves[lever] = limits[active[Enumerable.Range(0, active.Count).MaxBy(row => problem.Effect[row][at] / problem.Scale(row))]];
            }
            var (isMet, cost) = (IsMet(Margins(Sum(coming, asked)), active, before, Goal), problem.Cost(cover.Amps));
            if ((isMet && cost < bestCost) || double.IsInfinity(bestCost))
                (best, bestCost) = (asked, isMet ? cost : double.PositiveInfinity);
            if (isMet && round > 0)
                break;
        }
        return new(best, serves, Shortfalls(Margins(Sum(coming, best)), active), problem);
    }

    static bool IsMet(double[] margins, List<int> active, double[] before, Func<int, double> goal)
    {
        for (var at = 0; at < margins.Length; at++)
            if (active.Contains(at) ? margins[at] > goal(at) + 1e-4 : margins[at] > 0 && before[at] <= 0)
                return false;
        return true;
    }

    /// <summary>
    /// What one amp less of each usable lever takes off each active limit. An outlet's own limit is its own boat's affair: that others
    /// could lower its amps a little by lifting its volts asks nobody for anything.
    /// </summary>
    (double[][] Effect, int[] Usable) Effects(double[] coming, double[] before, List<int> active, IReadOnlyList<Askable> askable)
    {
        int[] usable = [.. Enumerable.Range(0, askable.Count).Where(at => askable[at].MostAmps >= LeastAmps)];
        var byLever = usable.Select(lever =>
        {
            double[] less = [.. coming];
            less[lever] += 1;
            var after = new Modelled(model.Solve(less), less);
            return active.ConvertAll(at => limits[at].Outlet is { } own && own != model.Levers[lever]
                ? 0 : before[at] - (limits[at].Now + limits[at].Model(after) - modelNow[at]));
        }).ToList();
        return ([.. active.Select((_, row) => byLever.Select(effects => effects[row]).ToArray())], usable);
    }

    /// <param name="missing">Of each active limit with <paramref name="asked"/> done; the need is that and what it does.</param>
    CoverProblem Problem(double[][] effect, int[] usable, List<double> missing, double[] asked, IReadOnlyList<Askable> askable)
    {
        var slips = usable.Select(lever => model.Levers[lever].Slip!).Distinct().Index().ToDictionary(slip => slip.Item, slip => slip.Index);
        var problem = new CoverProblem(
            effect,
            [.. missing.Select((one, row) => one + usable.Index().Sum(lever => effect[row][lever.Index] * asked[lever.Item]))],
            [.. usable.Select(lever => askable[lever].Weight)],
            [.. usable.Select(lever => askable[lever].MostAmps)],
            [.. usable.Select(lever => slips[model.Levers[lever].Slip!])],
            SlipAmps, LeastAmps, StepAmps);
        return problem with { Needed = [.. problem.Needed.Select((needed, row) => Reach(problem, row) is var reach && needed <= reach ? needed : 0.98 * reach)] };
    }

    /// <summary>The most that those worth asking can take off a limit.</summary>
    static double Reach(CoverProblem problem, int limit)
    {
        var strongest = problem.Effect[limit].DefaultIfEmpty(0).Max();
        return problem.Effect[limit].Index().Where(lever => lever.Item > 0 && lever.Item >= WorthAsking * strongest)
            .Sum(lever => lever.Item * problem.Highest(lever.Index));
    }

    List<Shortfall> Shortfalls(double[] margins, List<int> active) =>
        [.. active.Where(at => margins[at] > 0).OrderByDescending(at => margins[at]).Select(at => new Shortfall(limits[at].Words(), margins[at]))];

    static double[] Sum(double[] one, double[] other) => [.. one.Zip(other, (a, b) => a + b)];
}
