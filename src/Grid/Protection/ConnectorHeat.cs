namespace Farberth.Grid.Protection;

/// <summary>How far a connector has warmed, as shares of its rated rise: what the past amps have left in it.</summary>
/// <param name="Fast">Δ_f, contacts above the housing.</param>
/// <param name="Slow">Δ_s, housing and cord end above the air.</param>
/// <param name="Cord">Δ_c, the cord's jacket far from the plug, as a share of its own rated rise.</param>
/// <param name="Recent">u of the last minutes: through a thermostat's pauses and a kettle.</param>
/// <param name="Earlier">u of the last hour or so; the difference from <paramref name="Recent"/> is the drift.</param>
/// <remarks>
/// With u = (I/I_n)^n, φ the fast share, F the factor of wear and r the rated rise:
///   τ_f·dΔ_f/dt = φ·u − Δ_f
///   τ_s·dΔ_s/dt = (1 − φ)·u − Δ_s
///   T = T_air + b + F·r·(Δ_f + Δ_s)
///   τ_c·dΔ_c/dt = (I/I_n)² − Δ_c,   T_jacket = T_air + r_c·Δ_c
/// solved exactly over a step with the amps held. A mean ū over a time τ is the same equation.
/// </remarks>
public readonly record struct ConnectorHeat(double Fast, double Slow, double Cord, double Recent, double Earlier)
{
    /// <summary>Twice what a sagging dock and a hot forenoon do to u in the half hour between the means (assumed).</summary>
    const double Jump = 0.1;

    /// <summary>(Δ_f + Δ_s): the share of the rated rise that is there now.</summary>
    public double Share => Fast + Slow;

    /// <summary>Jacket above the air.</summary>
    public double CordRiseKelvin => ConnectorModel.CordRiseKelvin * Cord;

    /// <summary>
    /// Change of u a minute, between the two means, which lag by their own times. A boat that comes back is a jump and no drift: what
    /// differs by more and more counts less and less (Tukey's biweight), from <see cref="Jump"/> on not at all.
    /// </summary>
    public double DriftPerMinute
    {
        get
        {
            var (difference, x) = (Recent - Earlier, (Recent - Earlier) / Jump);
            var weight = Math.Max(0, 1 - x * x);
            return difference * weight * weight / (ConnectorStep.EarlierMinutes - ConnectorStep.RecentMinutes);
        }
    }

    /// <summary>
    /// Without a sensor nothing tells within minutes whether a jump of the amps matters; only amps that have lasted say something.
    /// The drift is kept.
    /// </summary>
    public ConnectorHeat Lasting => this with { Recent = Earlier, Earlier = Earlier - (Recent - Earlier) };

    /// <summary>After steady amps for hours.</summary>
    public static ConnectorHeat Settled(double share) => new(
        ConnectorModel.FastShare * share, (1 - ConnectorModel.FastShare) * share,
        Math.Pow(share, 2 / ConnectorModel.Exponent), share, share);

    /// <param name="share">u of the amps held over the step.</param>
    /// <param name="squaredAmps">(I/I_n)².</param>
    public ConnectorHeat Follow(double share, double squaredAmps, ConnectorStep step) => new(
        Fast + (ConnectorModel.FastShare * share - Fast) * step.Fast,
        Slow + ((1 - ConnectorModel.FastShare) * share - Slow) * step.Slow,
        Cord + (squaredAmps - Cord) * step.Cord,
        Recent + (share - Recent) * step.Recent,
        Earlier + (share - Earlier) * step.Earlier);
}

/// <summary>1 − e^(−Δt/τ) of each time constant: the same for every connector of a dock, so it is computed once a step.</summary>
public readonly record struct ConnectorStep(double Fast, double Slow, double Cord, double Recent, double Earlier)
{
    /// <summary>The two means whose difference is a drift (assumed: longer than a kettle's boil, shorter than an afternoon).</summary>
    public const double RecentMinutes = 5, EarlierMinutes = 40;

    public static ConnectorStep Of(TimeSpan time)
    {
        double Share(double minutes) => 1 - Math.Exp(-time.TotalMinutes / minutes);
        return new(
            Share(ConnectorModel.FastMinutes), Share(ConnectorModel.SlowMinutes), Share(ConnectorModel.CordMinutes),
            Share(RecentMinutes), Share(EarlierMinutes));
    }
}
