using Microsoft.AspNetCore.Authorization;

namespace Farberth.Service.Access;

/// <summary>
/// What one may do, and which roles may do it. Every endpoint names one of these, or is open to all; one that names nothing is
/// closed to everybody.
/// </summary>
public static class Policies
{
    /// <summary>See docks, alarms and history.</summary>
    public const string Look = "look";

    /// <summary>Acknowledge, shelve, take out of service.</summary>
    public const string Alarms = "alarms";

    /// <summary>Say which boat lies where, and give its people a link.</summary>
    public const string Stays = "stays";

    /// <summary>Put another site file to use.</summary>
    public const string SiteFile = "site-file";

    /// <summary>Say who has an account, and read who did what.</summary>
    public const string People = "people";

    public static readonly IReadOnlyDictionary<string, IReadOnlyList<string>> RolesOf = new Dictionary<string, IReadOnlyList<string>>
    {
        [Look] = Roles.All,
        [Alarms] = [Roles.Harbormaster, Roles.Electrician],
        [Stays] = [Roles.Harbormaster],
        [SiteFile] = [Roles.Electrician],
        [People] = [Roles.Administrator],
    };

    public static void AddTo(AuthorizationOptions options)
    {
        foreach (var (name, roles) in RolesOf)
            options.AddPolicy(name, policy => policy.RequireAuthenticatedUser().RequireRole(roles));
        options.FallbackPolicy = new AuthorizationPolicyBuilder().RequireAssertion(_ => false).Build();
    }
}
