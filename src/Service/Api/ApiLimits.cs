using System.Globalization;
using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.RateLimiting;

namespace Farberth.Service.Api;

/// <summary>How much one account may ask. Our own choice: far above what a person or a dashboard does.</summary>
static class ApiLimits
{
    public const string Asking = "api-asking", Changing = "api-changing", Streaming = "api-streaming";

    /// <summary>Requests in a burst and then a second; changes likewise; streams at once.</summary>
    const int Burst = 200, EachSecond = 50, ChangesInBurst = 30, ChangesEachSecond = 5, Streams = 64;

    public static void AddTo(RateLimiterOptions limits)
    {
        limits.AddPolicy(Asking, context => RateLimitPartition.GetTokenBucketLimiter(Who(context), _ => Bucket(Burst, EachSecond)));
        limits.AddPolicy(Changing, context => RateLimitPartition.GetTokenBucketLimiter(Who(context), _ => Bucket(ChangesInBurst, ChangesEachSecond)));
        limits.AddPolicy(Streaming, context => RateLimitPartition.GetConcurrencyLimiter(Who(context), _ => new() { PermitLimit = Streams }));
        limits.OnRejected = async (rejected, _) =>
        {
            if (rejected.Lease.TryGetMetadata(MetadataName.RetryAfter, out var wait))
                rejected.HttpContext.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
            await TypedResults.Problem("Too much was asked in too short a time.", statusCode: StatusCodes.Status429TooManyRequests)
                .ExecuteAsync(rejected.HttpContext).ConfigureAwait(false);
        };
    }

    /// <summary>The account; whoever has none is known by address.</summary>
    static string Who(HttpContext context) => context.User.Identity?.Name ?? context.Connection.RemoteIpAddress?.ToString() ?? "";

    static TokenBucketRateLimiterOptions Bucket(int most, int eachSecond) =>
        new() { TokenLimit = most, TokensPerPeriod = eachSecond, ReplenishmentPeriod = TimeSpan.FromSeconds(1) };
}
