using System.Security.Claims;
using Farberth.Service.Access;

namespace Farberth.Service.Tests.Access;

/// <summary>Whom another server has signed in (claims of OpenID Connect Core 1.0, section 5.1).</summary>
public class RolesFromElsewhere
{
    [Fact]
    public void Only_roles_that_this_program_knows_count_and_nobody_gets_one_by_default()
    {
        var known = OpenIdSignIn.Known(Told(("sub", "4711"), ("preferred_username", "edda"), ("roles", "electrician"), ("roles", "root"), ("role", "administrator")), "roles");
        Assert.Equal("edda", known.Identity!.Name);
        Assert.Equal([Roles.Electrician], known.FindAll(ClaimTypes.Role).Select(role => role.Value));
        Assert.Empty(OpenIdSignIn.Known(Told(("sub", "4711")), "roles").FindAll(ClaimTypes.Role));
    }

    static ClaimsPrincipal Told(params (string Type, string Value)[] claims) =>
        new(new ClaimsIdentity(claims.Select(claim => new Claim(claim.Type, claim.Value)), "oidc", "name", "role"));
}
