using Farberth.Monitoring.Words;
using static System.FormattableString;

namespace Farberth.Planning.Placement;

/// <summary>A slip that one boat may have.</summary>
/// <param name="LowestVolts">Of its dock while the boat is there, leg to neutral; infinite for a boat that takes no power.</param>
/// <param name="Place">Pedestal and leg of them.</param>
/// <param name="When">The hour of them, at the marina; null for a boat that takes no power.</param>
/// <param name="MeetsWishes">True where it had none.</param>
/// <param name="Why">A plain sentence.</param>
public sealed record SlipOffer(Berth Berth, double LowestVolts, string Place, Moment? When, bool MeetsWishes, string Why);

/// <summary>Every slip of a site for one boat, for the harbormaster at the radio.</summary>
/// <param name="Offers">One for each slip that may be given, those that meet its wishes first, then by the volts that they leave.</param>
/// <param name="Refusals">Each other slip and what stands against it, the nearest to fitting first.</param>
public sealed record SlipOffers(IReadOnlyList<SlipOffer> Offers, IReadOnlyList<SlipRefusal> Refusals)
{
    internal static SlipOffers Of(PlacementProblem problem, IReadOnlyDictionary<string, double> strangers)
    {
        var guest = problem.Guests[0];
        var ways = new BerthRanking(problem, new(new Dictionary<Guest, Berth>())).Of(guest).GroupBy(ranked => ranked.Berth.Slip).ToDictionary(slip => slip.Key, slip => slip.First());
        List<SlipRefusal> refusals =
        [
            .. problem.Site.Slips.Values.OrderByDescending(slip => slip.LengthMetres ?? double.PositiveInfinity).Select(slip =>
                strangers.TryGetValue(slip.Name, out var amps) ? new SlipRefusal(slip.Name, SlipRefusalReason.SizePlugOrStay, Sentence.Of("is in use ({0:0.0} A), though nobody is said to lie there", amps))
                : problem.Misfit(guest.Arrival, slip) is { } misfit ? new(slip.Name, SlipRefusalReason.SizePlugOrStay, misfit)
                : ways[slip.Name] is { IsGood: false } bad ? new(slip.Name, SlipRefusalReason.Power, bad.Why!) : null).OfType<SlipRefusal>().OrderBy(refusal => refusal.Reason),
        ];
        var refused = refusals.Select(refusal => refusal.Slip).ToHashSet();
        return new([.. ways.Values.Where(way => !refused.Contains(way.Berth.Slip)).OrderByDescending(way => guest.Wishes(way.Berth)).ThenByDescending(way => way.LowestVolts).Select(way => Offer(problem, guest, way))], refusals);
    }

    static SlipOffer Offer(PlacementProblem problem, Guest guest, RankedBerth way)
    {
        var meetsWishes = guest.Wishes(way.Berth);
        var volts = problem.DockOf(way.Berth) is null ? "It takes no power; the slip has the size."
            : Invariant($"Leaves {way.LowestVolts:0.0} V at {way.Place}, {way.When}; {problem.Site.Limits.Volts.LowA:0.#} V is the least that is planned for.");
        return new(way.Berth, way.LowestVolts, way.Place, way.When, meetsWishes, volts + (guest.Arrival.HasWish && meetsWishes ? " It is its wish." : ""));
    }
}
