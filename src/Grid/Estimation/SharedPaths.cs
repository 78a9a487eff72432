using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;

namespace Farberth.Grid.Estimation;

/// <summary>The ways from the source to the buses of a feeder, and what two buses have in common of them.</summary>
sealed class SharedPaths(LoadFlowState state)
{
    readonly Dictionary<string, List<Branch>> paths = state.Feeder.Buses.ToDictionary(
        bus => bus, bus => state.Feeder.PathTo(bus).Reverse().ToList());

    public bool IsBeyond(string bus, string outerEnd) => paths[bus].Any(branch => branch.To == outerEnd);

    /// <summary>R of <see cref="NeutralShift"/>, V².</summary>
    public double[,] Covariance(IReadOnlyList<BusShift> shifts, IReadOnlyDictionary<string, double> doubtAmps)
    {
        var perAmp = Along(branch => NeutralShift.PerAmp(state.Feeder.Supply, branch.Impedance));
        var ofBranch = Along(branch => Square(
            NeutralShift.BranchDoubt * NeutralShift.PerAmp(state.Feeder.Supply, branch.Impedance) * state.AmpsInto(branch.To, Leg.N).Magnitude));
        var byLoad = doubtAmps.Where(pair => pair.Value > 0)
            .Select(pair => shifts.Select(shift => pair.Value * perAmp[Fork(shift.Bus, pair.Key)]).ToArray()).ToList();
        var covariance = new double[shifts.Count, shifts.Count];
        for (var p = 0; p < shifts.Count; p++)
            for (var q = 0; q <= p; q++)
            {
                var both = ofBranch[Fork(shifts[p].Bus, shifts[q].Bus)] + byLoad.Sum(volts => volts[p] * volts[q])
                    + (p == q ? Square(shifts[p].SdVolts) : 0);
                (covariance[p, q], covariance[q, p]) = (both, both);
            }
        return covariance;
    }

    /// <summary>The sum of something over the branches from the source to each bus.</summary>
    Dictionary<string, double> Along(Func<Branch, double> each) =>
        paths.ToDictionary(path => path.Key, path => path.Value.Sum(each));

    /// <summary>The outermost bus that lies on the ways to both.</summary>
    string Fork(string one, string other)
    {
        var shared = paths[one].Zip(paths[other]).TakeWhile(pair => pair.First.To == pair.Second.To).Count();
        return shared == 0 ? state.Feeder.Buses[0] : paths[one][shared - 1].To;
    }

    static double Square(double value) => value * value;
}
