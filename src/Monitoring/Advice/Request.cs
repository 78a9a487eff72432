using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Advice;

/// <summary>One leg of an outlet that is to come down.</summary>
/// <param name="Amps">To switch off; below 0 where a second cord brings them.</param>
/// <param name="BeforeAmps">Drawn when it was asked.</param>
sealed record AskedLeg(OutletKey Outlet, Leg Leg, double Amps, double BeforeAmps)
{
    public bool Is(Lever lever) => lever.Key == Outlet && lever.Leg == Leg;
}

/// <summary>What is asked of one slip, and how it goes.</summary>
/// <param name="Legs">What is to come down; none for an ask that comes from an alarm.</param>
/// <param name="AskedAt">For the first time; renewing leaves it.</param>
/// <param name="WasFollowed">The amps have fallen, at least once.</param>
/// <param name="FreeSince">Since when the dock could do without it; null: it cannot.</param>
sealed record Request(
    BoaterAdvice Advice, IReadOnlyList<AskedLeg> Legs, DateTimeOffset AskedAt, bool WasFollowed = false, DateTimeOffset? FreeSince = null)
{
    /// <summary>Assumed: appliances come in sizes, and meters have noise.</summary>
    const double FollowedShare = 0.7;

    public string Slip => Advice.Slip;

    public bool IsShedding => Legs.Count > 0;

    /// <summary>By how much each of its levers has come down since; below 0 where more is drawn.</summary>
    public double FellAmps(Lever lever) => Legs.FirstOrDefault(leg => leg.Is(lever)) is { } leg ? leg.BeforeAmps - lever.Amps : 0;

    public bool IsFollowed(IReadOnlyList<Lever> levers) => levers.Where(lever => Legs.Any(leg => leg.Amps > 0 && leg.Is(lever)))
        .Sum(FellAmps) >= FollowedShare * Legs.Where(leg => leg.Amps > 0).Sum(leg => leg.Amps);

    /// <summary>What of a lever will still come down when he does as asked; nothing once he has.</summary>
    public double ComingAmps(Lever lever)
    {
        if (WasFollowed || Legs.FirstOrDefault(leg => leg.Is(lever)) is not { } leg)
            return 0;
        return leg.Amps < 0 ? leg.Amps : Math.Clamp(leg.Amps - Math.Max(0, FellAmps(lever)), 0, lever.Amps);
    }

    /// <summary>What comes back when he is told that it is no longer needed: what he was asked for, or more if more has gone.</summary>
    public double ReturningAmps(Lever lever)
    {
        if (Legs.FirstOrDefault(leg => leg.Is(lever)) is not { } leg)
            return 0;
        return !WasFollowed ? Math.Max(0, FellAmps(lever)) : leg.Amps < 0 ? leg.Amps : Math.Max(leg.Amps, FellAmps(lever));
    }
}
