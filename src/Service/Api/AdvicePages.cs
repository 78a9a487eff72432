using Farberth.Monitoring.Advice;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>What is asked of the boaters.</summary>
static class AdvicePages
{
    const int Most = 1000;

    public static void Map(IEndpointRouteBuilder api) => api.MapGet("/advice", All).Asks("What is asked of each slip now, the newest first");

    static Ok<IReadOnlyList<AskedOfSlip>> All(string? dock, string? slip, LatestView latest) => TypedResults.Ok<IReadOnlyList<AskedOfSlip>>(
    [
        .. latest.Value.Docks.Where(one => dock is null || one.Key == dock)
            .SelectMany(one => one.Value.Advice.Standing.Where(advice => slip is null || advice.Slip == slip).Select(advice => AskedOfSlip.Of(one.Key, advice)))
            .OrderByDescending(advice => advice.Since).Take(Most),
    ]);
}

/// <param name="Ask">shed, second-cord, unplug, check-breaker or shore-lost.</param>
/// <param name="Amps">To switch off or to move; of a hazard what is drawn now; 0 where nothing is drawn.</param>
/// <param name="Until">Then it is asked again or taken back.</param>
public sealed record AskedOfSlip(
    string Dock, string Slip, string Ask, double Amps, DateTimeOffset Since, DateTimeOffset Until, string Message, string Why)
{
    public static AskedOfSlip Of(string dock, BoaterAdvice advice) => new(
        dock, advice.Slip, advice.Ask.Word(), Math.Round(advice.Amps, 1), advice.Time, advice.Until, advice.Message, advice.Why);
}
