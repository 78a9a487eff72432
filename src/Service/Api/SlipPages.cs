using Farberth.Planning.Loads;
using Farberth.Planning.Placement;
using Farberth.Service.Access;
using Farberth.Service.Placing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>Where a boat that asks could lie.</summary>
static class SlipPages
{
    public static void Map(IEndpointRouteBuilder api) => api.MapGet("/slips/offers", Offers)
        .RequireAuthorization(Policies.Stays).RequireRateLimiting(ApiLimits.Asking).WithSummary("Every slip for one boat, offered or refused")
        .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status403Forbidden);

    /// <param name="length">Metres, like beam and draught.</param>
    /// <param name="rating">Of its cords, A; without it the boat wants no power.</param>
    static async Task<Results<Ok<SlipsShown>, ProblemHttpResult>> Offers(
        SlipSearch search, double length, double beam, double draught, DateTimeOffset from, DateTimeOffset until,
        double? rating, int? legs, bool? neutral, int? cords, [FromQuery(Name = "air-conditioners")] int? airConditioners)
    {
        var cord = rating is { } amps ? new Cord(amps, legs ?? 1, neutral ?? true) : null;
        var found = await search.For(new("the boat", length, beam, draught, cord, cords ?? 1, airConditioners ?? 0, from, until)).ConfigureAwait(false);
        return found.Offers is { } offers ? TypedResults.Ok(SlipsShown.Of(offers, found.PlannedForCelsius)) : Problems.Wrong($"{found.Objection}");
    }
}

/// <param name="PlannedForCelsius">Hottest hour that was counted on.</param>
/// <param name="Offers">The slip that leaves its dock most volts first.</param>
/// <param name="Refused">Each other slip, the nearest to fitting first.</param>
public sealed record SlipsShown(double PlannedForCelsius, IReadOnlyList<OfferShown> Offers, IReadOnlyList<SlipRefusedShown> Refused, string Caution)
{
    public static SlipsShown Of(SlipOffers offers, double celsius) => new(
        celsius, [.. offers.Offers.Select(OfferShown.Of)], [.. offers.Refusals.Select(refusal => new SlipRefusedShown(refusal.Slip, $"{refusal.Why}"))],
        Service.Caution.Text);
}

/// <param name="LowestVolts">Of the dock while the boat is there, leg to neutral; null for a boat that takes no power.</param>
/// <param name="When">The hour of them, at the marina.</param>
public sealed record OfferShown(string Slip, string? Dock, IReadOnlyList<string> Outlets, double? LowestVolts, string Place, string When, string Why)
{
    public static OfferShown Of(SlipOffer offer) => new(
        offer.Berth.Slip, offer.Berth.Dock, [.. offer.Berth.Outlets.Select(outlet => $"{outlet.Pedestal}.{outlet.Outlet.Name}")],
        double.IsFinite(offer.LowestVolts) ? Math.Round(offer.LowestVolts, 2) : null, offer.Place, $"{offer.When}", offer.Why);
}

public sealed record SlipRefusedShown(string Slip, string Why);
