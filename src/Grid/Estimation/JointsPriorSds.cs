namespace Farberth.Grid.Estimation;

/// <summary>The prior's standard deviation of every unknown of some cables.</summary>
sealed class JointsPriorSds
{
    readonly JointsPrior prior;
    readonly JointUnknowns unknowns;
    readonly double[] lineOhms;
    readonly double[] neutralOhms;

    public JointsPriorSds(JointsPrior prior, JointUnknowns unknowns)
    {
        (this.prior, this.unknowns) = (prior, unknowns);
        (lineOhms, neutralOhms) = (new double[unknowns.Cables], new double[unknowns.Cables]);
        All = [.. from cable in Enumerable.Range(unknowns.First, unknowns.Cables)
                  from conductor in Enumerable.Range(0, unknowns.Legs + 1)
                  select new CableConductor(cable, conductor)];
    }

    /// <summary>Every conductor of every cable.</summary>
    public IReadOnlyList<CableConductor> All { get; }

    /// <summary>Takes the cables' ohms by the site file.</summary>
    public void FileOhms(TreeMeans mean)
    {
        for (var at = 0; at < lineOhms.Length; at++)
            (lineOhms[at], neutralOhms[at]) = (
                mean.LineOhms[unknowns.First + at].Real, mean.NeutralOhms[unknowns.First + at].Real);
    }

    /// <param name="bad">Conductors with a bad joint.</param>
    public double[] With(IEnumerable<CableConductor> bad)
    {
        var sd = new double[unknowns.Count];
        for (var cable = unknowns.First; cable < unknowns.End; cable++)
        {
            sd[unknowns.Length(cable)] = double.Hypot(prior.LengthShareSd, prior.OrdinaryOhms / lineOhms[cable - unknowns.First]);
            for (var leg = 0; leg < unknowns.Legs; leg++)
                sd[unknowns.Gain(cable, leg)] = prior.GainShareSd;
        }
        foreach (var at in All)
            sd[unknowns.Excess(at)] = OfGood(at);
        foreach (var at in bad)
            sd[unknowns.Excess(at)] = prior.BadOhmsSd;
        return sd;
    }

    /// <summary>s of a good conductor's ΔR.</summary>
    public double OfGood(CableConductor at)
    {
        var ohms = (at.Conductor == unknowns.Legs ? neutralOhms : lineOhms)[at.Cable - unknowns.First];
        return double.Hypot(prior.OrdinaryOhmsSd, prior.ConductorShareSd * ohms);
    }
}
