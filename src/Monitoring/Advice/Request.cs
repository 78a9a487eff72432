namespace Farberth.Monitoring.Advice;

/// <summary>What is asked of one slip, and how it goes.</summary>
/// <param name="AskedAt">For the first time; renewing leaves it.</param>
/// <param name="WasFollowed">The amps have fallen, at least once.</param>
/// <param name="FreeSince">Since when the dock could do without it; null: it cannot.</param>
sealed record Request(
    BoaterAdvice Advice, DateTimeOffset AskedAt, bool WasFollowed = false, DateTimeOffset? FreeSince = null)
{
    /// <summary>Assumed: appliances come in sizes, and meters have noise.</summary>
    const double FollowedShare = 0.7;

    public string Slip => Advice.Slip;

    public IReadOnlyList<AskedLeg> Legs => Advice.Legs;

    public bool IsShedding => Legs.Count > 0;

    /// <summary>By how much each of its levers has come down since; below 0 where more is drawn.</summary>
    public double FellAmps(Lever lever) => Of(lever) is { } leg ? leg.BeforeAmps - lever.Amps : 0;

    public bool IsFollowed(IReadOnlyList<Lever> levers) => levers.Where(lever => Legs.Any(leg => leg.Amps > 0 && Is(leg, lever)))
        .Sum(FellAmps) >= FollowedShare * Legs.Where(leg => leg.Amps > 0).Sum(leg => leg.Amps);

    /// <summary>What of a lever will still come down when he does as asked; nothing once he has.</summary>
    public double ComingAmps(Lever lever)
    {
        if (WasFollowed || Of(lever) is not { } leg)
            return 0;
        return leg.Amps < 0 ? leg.Amps : Math.Clamp(leg.Amps - Math.Max(0, FellAmps(lever)), 0, lever.Amps);
    }

    /// <summary>
    /// What comes back when he is told that it is no longer needed: what he was asked for, or up to twice that if more has gone, since
    /// appliances come in sizes; the rest has gone for reasons of his own (assumed).
    /// </summary>
    public double ReturningAmps(Lever lever)
    {
        if (Of(lever) is not { } leg)
            return 0;
        return !WasFollowed ? Math.Max(0, FellAmps(lever)) : leg.Amps < 0 ? leg.Amps : Math.Clamp(FellAmps(lever), leg.Amps, 2 * leg.Amps);
    }

    /// <summary>A limit that all share, or its own outlet's; what another outlet carries is another boat's affair.</summary>
    public bool Concerns(Limit limit) => limit.Outlet is not { } own || Of(own) is not null;

    AskedLeg? Of(Lever lever)
    {
        for (var at = 0; at < Legs.Count; at++)
            if (Is(Legs[at], lever))
                return Legs[at];
        return null;
    }

    static bool Is(AskedLeg leg, Lever lever) => lever.Key == leg.Outlet && lever.Leg == leg.Leg;
}
