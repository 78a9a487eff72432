using Farberth.Monitoring.Words;
using static System.FormattableString;

namespace Farberth.Planning.Placement;

/// <summary>Puts a plan into words: why each boat lies where it lies, and why a refused one lies nowhere.</summary>
sealed class Explained(PlacementProblem problem, PlanCheck check)
{
    /// <summary>What is shown to a tenth is not said to differ by less (assumed).</summary>
    const double AlikeVolts = 0.1;

    readonly BerthRanking ranking = new(problem, check.Plan);

    public PlacementAnswer Answer(PlacementProof proof) => new(
        [.. Arrivals.Where(check.Plan.Berths.ContainsKey).Select(Placed)],
        [.. Arrivals.Where(guest => !check.Plan.Berths.ContainsKey(guest)).Select(Refused)],
        [.. problem.Guests.Where(guest => guest.MovesFrom is { } own && check.Plan.Berths[guest].Slip != own)
            .Select(guest => new MovedBoat(guest.Boat.Name, guest.MovesFrom!, check.Plan.Berths[guest]))],
        [.. check.Lowest.Values.Select(Outlook)],
        proof);

    DockOutlook Outlook(CheckedLimit low)
    {
        var before = low.Dock.LowestAtPresent()!;
        return new(low.Dock.Dock.Name, Lowest(low), Lowest(before), before.Value < problem.Site.Limits.Volts.LowA);
    }

    LowestVolts Lowest(CheckedLimit at) => new(at.Value, Place(at), When(at.Slot));

    IEnumerable<Guest> Arrivals => problem.Guests.Where(guest => guest.MovesFrom is null);

    PlacedBoat Placed(Guest guest)
    {
        var berth = check.Plan.Berths[guest];
        var wish = guest.Wishes(berth);
        if (problem.DockOf(berth) is not { } dock)
            return new(guest.Arrival, berth, double.PositiveInfinity, "", "", "It takes no power; the slip has the size.", wish);
        var there = PlanCheck.Of(problem, check.Plan, [.. Enumerable.Range(0, problem.Slots.Count).Where(slot => guest.Amps[slot] > 0)], dock).Lowest[dock];
        return new(guest.Arrival, berth, there.Value, Place(there), When(there.Slot), Why(guest, berth, there.Value, wish), wish);
    }

    /// <summary>The choice beside the best of the other free slips, the rest of the plan as it is.</summary>
    string Why(Guest guest, Berth berth, double volts, bool meetsWishes)
    {
        var others = ranking.Of(guest).Where(other => other.Berth != berth).ToList();
        var good = others.Where(other => other.IsGood).ToList();
        var wish = meetsWishes || !guest.Arrival.HasWish ? "" : " " + Wish(guest, others);
        var best = good.MaxBy(other => other.LowestVolts);
        var words = best switch
        {
            null when others.Count > 0 => $"No other free slip that fits can carry it: in {others[0].Berth.Slip} {others[0].Why}.",
            null => "No other slip that fits is free for the whole stay.",
            _ when best.LowestVolts < volts - AlikeVolts => Invariant($"The next best, {best.Berth.Slip}, would leave {best.LowestVolts:0.0} V at {best.Place}."),
            _ when best.LowestVolts <= volts + AlikeVolts => $"{best.Berth.Slip} would do as well.",
            _ => Invariant($"{best.Berth.Slip} would leave {best.LowestVolts:0.0} V there, but would not lift the lowest volts of the site."),
        };
        return words + wish;
    }

    static string Wish(Guest guest, List<RankedBerth> others) => others.Find(other => guest.Wishes(other.Berth)) switch
    {
        null => "What it wishes for is taken or does not fit.",
        { IsGood: false } wished => $"As for its wish, in {wished.Berth.Slip} {wished.Why}.",
        var wished => Invariant($"Its wish {wished.Berth.Slip} would leave {wished.LowestVolts:0.0} V at {wished.Place}."),
    };

    RefusedBoat Refused(Guest guest)
    {
        IReadOnlyList<SlipRefusal> slips = [.. Against(guest).OrderBy(slip => slip.Reason)];
        return new(guest.Arrival, slips.Count == 0 ? "The site has no slips." : WhatSaysMost(slips), slips);
    }

    static string WhatSaysMost(IReadOnlyList<SlipRefusal> slips) => slips[0].Reason switch
    {
        SlipRefusalReason.Power => $"{slips[0].Slip} has the size and the plug, but {slips[0].Why}.",
        SlipRefusalReason.TakenByArrival => $"Every slip that fits is taken while it would stay; {slips[0].Slip} {slips[0].Why}.",
        _ => $"No slip fits; {slips[0].Slip} {slips[0].Why}.",
    };

    IEnumerable<SlipRefusal> Against(Guest guest)
    {
        var ranked = ranking.Of(guest).GroupBy(berth => berth.Berth.Slip).ToDictionary(slip => slip.Key, slip => slip.First());
        foreach (var slip in problem.Site.Slips.Values.OrderByDescending(slip => slip.LengthMetres ?? double.PositiveInfinity))
            if (problem.Misfit(guest.Arrival, slip) is { } misfit)
                yield return new(slip.Name, SlipRefusalReason.SizePlugOrStay, misfit);
            else if (ranked.TryGetValue(slip.Name, out var free))
                yield return new(slip.Name, SlipRefusalReason.Power, free.Why!);
            else
                yield return new(slip.Name, SlipRefusalReason.TakenByArrival, Sentence.Of("is {0}'s then", Taker(guest, slip.Name).Boat.Name));
    }

    Guest Taker(Guest guest, string slip) =>
        check.Plan.Berths.First(pair => pair.Value.Slip == slip && pair.Key.Arrival.Overlaps(guest.Arrival)).Key;

    static string Place(CheckedLimit at) => $"{at.What.Place} {at.What.Leg}";

    string When(int slot) => problem.When(problem.Slots[slot].Start);
}
