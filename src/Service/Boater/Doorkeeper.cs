using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using Farberth.Service.Access;
using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Boater;

/// <summary>
/// Whom a link lets in. A right one always opens: one visitor who tries wrong ones must not shut the page to all who come by the same
/// router, and 128 bits are not guessed. Wrong ones beyond <see cref="WrongAMinute"/> from one address are not even looked up.
/// </summary>
sealed class Doorkeeper(BoaterLinks links, Stays stays, TimeProvider clock) : IDisposable
{
    public const int WrongAMinute = 30;

    readonly PartitionedRateLimiter<IPAddress> wrong = PartitionedRateLimiter.Create<IPAddress, IPAddress>(from =>
        RateLimitPartition.GetFixedWindowLimiter(from, _ => new() { PermitLimit = WrongAMinute, Window = TimeSpan.FromMinutes(1) }));

    /// <returns>The stay, or the status code with which the door stays shut.</returns>
    public async Task<(BoatStay? Stay, int Status)> Open(string token, IPAddress? from)
    {
        if (links.Read(token) is not { } claim)
            return (null, Refused(from));
        var (stay, now) = (await stays.Find(claim.Stay).ConfigureAwait(false), clock.GetUtcNow());
        if (stay == null || stay.Slip != claim.Slip || now >= claim.End || now >= stay.To || stay.RevokedAt != null)
            return (null, StatusCodes.Status410Gone);
        return stay.IsOpen(now) ? (stay, StatusCodes.Status200OK) : (null, StatusCodes.Status404NotFound);
    }

    /// <summary>Of a link that nobody here has signed: the status code of the answer.</summary>
    public int Refused(IPAddress? from)
    {
        using var lease = wrong.AttemptAcquire(Network(from));
        return lease.IsAcquired ? StatusCodes.Status404NotFound : StatusCodes.Status429TooManyRequests;
    }

    public void Dispose() => wrong.Dispose();

    /// <summary>Of IPv6 the network of 64 bits: one visitor has all of its addresses.</summary>
    static IPAddress Network(IPAddress? from)
    {
        if (from is not { AddressFamily: AddressFamily.InterNetworkV6, IsIPv4MappedToIPv6: false })
            return from ?? IPAddress.None;
        var bytes = from.GetAddressBytes();
        bytes.AsSpan(8).Clear();
        return new(bytes);
    }
}
