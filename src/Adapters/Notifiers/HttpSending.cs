using System.Net;
using Farberth.Monitoring.Ports;

namespace Farberth.Adapters.Notifiers;

/// <summary>One HTTP request, within a time, and what its answer means for trying again.</summary>
sealed class HttpSending(HttpClient http, TimeProvider time, TimeSpan within)
{
    /// <summary>
    /// For every webhook and push service. Redirects are not followed: a signed notice goes where it was addressed to. Waits are set for each
    /// request.
    /// </summary>
    public static HttpClient Client() => new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        UseCookies = false,
        PooledConnectionLifetime = TimeSpan.FromMinutes(5),
    })
    {
        Timeout = Timeout.InfiniteTimeSpan,
    };

    /// <param name="whenNotFound">What 404 means: the addresses of push services end, those of webhooks are mistyped or restarting.</param>
    public async ValueTask<TellingOutcome> Send(HttpRequestMessage request, Func<TellingOutcome> whenNotFound, CancellationToken cancel)
    {
        using var timeOut = new CancellationTokenSource(within, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(timeOut.Token, cancel);
        try
        {
            using var response = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, either.Token).ConfigureAwait(false);
            return response.StatusCode == HttpStatusCode.NotFound ? whenNotFound() : Outcome(response);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            return new TellingOutcome.TryAgain($"no answer within {within.TotalSeconds:0.#} s");
        }
        catch (HttpRequestException e)
        {
            // Not the message: it may name the address.
            return new TellingOutcome.TryAgain($"not reached: {e.HttpRequestError}");
        }
    }

    TellingOutcome Outcome(HttpResponseMessage response)
    {
        var why = $"the answer is {(int)response.StatusCode}";
        return (int)response.StatusCode switch
        {
            >= 200 and < 300 => new TellingOutcome.Delivered(),
            410 => new TellingOutcome.Never(why, IsGone: true),
            // 401 and 403: somebody will put the key right.
            401 or 403 or 408 or 425 or 429 or >= 500 => new TellingOutcome.TryAgain(why, RetryAfter(response)),
            _ => new TellingOutcome.Never(why),
        };
    }

    /// <summary>RFC 9110, section 10.2.3: seconds, or a date.</summary>
    TimeSpan? RetryAfter(HttpResponseMessage response) => response.Headers.RetryAfter switch
    {
        { Delta: { } wait } => wait,
        { Date: { } date } => date - time.GetUtcNow() is var wait && wait > TimeSpan.Zero ? wait : TimeSpan.Zero,
        _ => null,
    };
}
