using Farberth.Monitoring.Words;

namespace Farberth.Planning.Placement;

/// <summary>Who lies where, why, and how good that is.</summary>
public sealed record PlacementAnswer(
    IReadOnlyList<PlacedBoat> Placed, IReadOnlyList<RefusedBoat> Refused, IReadOnlyList<MovedBoat> Moved,
    IReadOnlyList<DockOutlook> Docks, PlacementProof Proof);

/// <param name="LowestVolts">Of its dock while it is there, under the whole plan.</param>
/// <param name="Place">Pedestal and leg of the lowest volts; empty for a boat that takes no power.</param>
/// <param name="When">The hour of them, at the marina.</param>
/// <param name="Why">A plain sentence.</param>
/// <param name="MeetsWishes">True where it had none.</param>
public sealed record PlacedBoat(Arrival Arrival, Berth Berth, double LowestVolts, string Place, string When, string Why, bool MeetsWishes);

/// <param name="Why">The sentence that says most: a slip that has the size but not the power, if there is one.</param>
/// <param name="Slips">Every slip of the site and what stands against it, the nearest to fitting first.</param>
public sealed record RefusedBoat(Arrival Arrival, string Why, IReadOnlyList<SlipRefusal> Slips);

public enum SlipRefusalReason
{
    Power,
    TakenByArrival,
    SizePlugOrStay,
}

/// <param name="Why">What follows "slip …" in a sentence.</param>
public sealed record SlipRefusal(string Slip, SlipRefusalReason Reason, Sentence Why);

/// <summary>A boat that lay there already and agreed to move.</summary>
public sealed record MovedBoat(string Boat, string FromSlip, Berth Berth);

/// <summary>The worst hour of a dock under a plan.</summary>
/// <param name="Before">Its worst hour with those who are there already and no arrival.</param>
/// <param name="IsBelowBandBefore">That is below band A: no plan makes it worse, and it does not count for the sag of the site where there are other docks.</param>
public sealed record DockOutlook(string Dock, LowestVolts Under, LowestVolts Before, bool IsBelowBandBefore);

/// <param name="Place">Pedestal and leg.</param>
/// <param name="When">The hour, at the marina.</param>
public sealed record LowestVolts(double Volts, string Place, string When);

/// <summary>One way to lie for one boat, and what it would bring.</summary>
/// <param name="LowestVolts">Of its dock while the boat is there; infinite for a boat that takes no power.</param>
/// <param name="Why">What stands against it; null where the boat may come.</param>
sealed record RankedBerth(Berth Berth, double LowestVolts, string Place, Moment? When, Sentence? Why)
{
    public bool IsGood => Why is null;
}
