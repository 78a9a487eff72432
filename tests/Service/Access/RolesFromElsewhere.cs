using System.Security.Claims;
using Farberth.Service.Access;

namespace Farberth.Service.Tests.Access;

/// <summary>Whom another server has signed in (claims of OpenID Connect Core 1.0, section 5.1).</summary>
public class RolesFromElsewhere
{
    static readonly OpenIdOptions Elsewhere = new(new("https://id.example.org/"), "farberth", null);

    [Fact]
    public void Only_roles_that_this_program_knows_count_and_nobody_gets_one_by_default()
    {
        var known = OpenIdSignIn.Known(Told(("sub", "4711"), ("preferred_username", "edda"), ("roles", "electrician"), ("roles", "root"), ("role", "administrator")), Elsewhere);
        Assert.Equal("edda at id.example.org", known.Identity!.Name);
        Assert.Equal([Roles.Electrician], RolesOf(known));
        Assert.Empty(RolesOf(OpenIdSignIn.Known(Told(("sub", "4711")), Elsewhere)));
    }

    [Fact]
    public void A_role_may_have_another_name_there_and_a_default_is_for_who_has_none()
    {
        var options = Elsewhere with { RoleClaim = "groups", RoleNames = new Dictionary<string, string> { ["dock-staff"] = Roles.Harbormaster }, DefaultRole = Roles.Viewer };

        Assert.Equal([Roles.Harbormaster], RolesOf(OpenIdSignIn.Known(Told(("groups", "dock-staff"), ("groups", "bookkeeping")), options)));
        Assert.Equal([Roles.Viewer], RolesOf(OpenIdSignIn.Known(Told(("groups", "bookkeeping"), ("roles", "administrator")), options)));
    }

    static IEnumerable<string> RolesOf(ClaimsPrincipal known) => known.FindAll(ClaimTypes.Role).Select(role => role.Value);

    static ClaimsPrincipal Told(params (string Type, string Value)[] claims) =>
        new(new ClaimsIdentity(claims.Select(claim => new Claim(claim.Type, claim.Value)), "oidc", "name", "role"));
}
