using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;

namespace Farberth.Service.Access;

/// <summary>For a demo on the loopback address: whoever comes is let in, and may do all but decide about accounts.</summary>
sealed class EverybodyHandler(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory log, UrlEncoder encoder)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, log, encoder)
{
    public const string Everybody = "everybody";

    protected override Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        Claim[] claims = [new(ClaimTypes.Name, "dock office"), .. new[] { Roles.Harbormaster, Roles.Electrician }.Select(role => new Claim(ClaimTypes.Role, role))];
        var everybody = new ClaimsPrincipal(new ClaimsIdentity(claims, Everybody));
        return Task.FromResult(AuthenticateResult.Success(new AuthenticationTicket(everybody, Everybody)));
    }
}
