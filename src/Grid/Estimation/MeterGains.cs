namespace Farberth.Grid.Estimation;

// γ_c = g(inner end) − g(outer end), so along the path to a meter g = g_0 − Σγ. The g_0 of the innermost meter is in no
// line: gains are only known against each other, and are given against the mean of all meters that hang on the same innermost one.
// With w the weights of the γ in such a difference, its variance is wᵀPw.

/// <summary>The gains of a tree's meters as far as the readings show them.</summary>
public sealed class MeterGains
{
    readonly Dictionary<(int Meter, int Leg), (double Share, double Sd)> gains = [];

    internal MeterGains(MeteredTree tree, JointUnknowns unknowns, JointsPosterior posterior, IReadOnlyList<TreeMeans> means)
    {
        var heard = Enumerable.Range(unknowns.First, unknowns.Cables)
            .Where(cable => means.Any(mean => !double.IsNaN(mean.Volts[cable, 0])));
        foreach (var meters in heard.GroupBy(cable => Innermost(tree, unknowns, cable)))
            for (var leg = 0; leg < tree.Legs; leg++)
                Add(tree, unknowns, posterior, [.. meters], leg);
    }

    /// <summary>g of each meter's leg against the mean of those it can be compared with, and one standard deviation.</summary>
    public IReadOnlyDictionary<(int Meter, int Leg), (double Share, double Sd)> Gains => gains;

    static int Innermost(MeteredTree tree, JointUnknowns unknowns, int cable)
    {
        while (tree.Parents[cable] >= unknowns.First)
            cable = tree.Parents[cable];
        return cable;
    }

    void Add(MeteredTree tree, JointUnknowns unknowns, JointsPosterior posterior, int[] meters, int leg)
    {
        if (meters.Length < 2)
            return;
        var paths = meters.Select(meter => Path(tree, unknowns, meter, leg)).ToList();
        var mean = new double[unknowns.Count];
        foreach (var place in paths.SelectMany(path => path))
            mean[place] += 1.0 / meters.Length;
        for (var at = 0; at < meters.Length; at++)
        {
            var weights = (double[])mean.Clone();
            foreach (var place in paths[at])
                weights[place]--;
            gains[(meters[at], leg)] = Sum(posterior, weights);
        }
    }

    /// <summary>Places of the γ from the innermost meter outwards.</summary>
    static List<int> Path(MeteredTree tree, JointUnknowns unknowns, int meter, int leg)
    {
        var path = new List<int>();
        for (; tree.Parents[meter] >= unknowns.First; meter = tree.Parents[meter])
            path.Add(unknowns.Gain(meter, leg));
        return path;
    }

    static (double Share, double Sd) Sum(JointsPosterior posterior, double[] weights)
    {
        int[] places = [.. Enumerable.Range(0, weights.Length).Where(place => weights[place] != 0)];
        var variance = 0.0;
        foreach (var one in places)
            foreach (var other in places)
                variance += weights[one] * posterior.Covariance(one, other) * weights[other];
        return (places.Sum(place => weights[place] * posterior[place]), Math.Sqrt(variance));
    }
}
