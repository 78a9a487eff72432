using System.CommandLine;
using Farberth.Service.Access;

namespace Farberth.Cli.Commands;

/// <summary>Who is let in, and by what address.</summary>
sealed class AccessArguments(Option<Uri> http)
{
    /// <summary>Every user of the machine can read a command line, so it is not there.</summary>
    const string SecretVariable = "FARBERTH_OIDC_SECRET";

    readonly Option<bool> noSignIn = new("--no-sign-in") { Description = "Let in whoever reaches the address, to see and to decide; on this machine only." };

    readonly Option<string?> certificate = new("--certificate") { Description = "The server's certificate for https, PEM or PKCS #12.", HelpName = "FILE" };

    readonly Option<string?> key = new("--certificate-key") { Description = "Its private key, PEM.", HelpName = "FILE" };

    readonly Option<Uri?> authority = new("--oidc")
    {
        Description = $"Also sign in at this OpenID Connect server; a client secret is read from {SecretVariable}.",
        HelpName = "ISSUER",
        CustomParser = result =>
        {
            if (Uri.TryCreate(result.Tokens[0].Value, UriKind.Absolute, out var issuer) && (issuer.Scheme == Uri.UriSchemeHttps || issuer is { Scheme: "http", IsLoopback: true }))
                return issuer;
            result.AddError($"--oidc must be an https address, not '{result.Tokens[0].Value}'");
            return null;
        },
    };

    readonly Option<string?> client = new("--oidc-client") { Description = "What this service is called there.", HelpName = "ID" };

    readonly Option<string> roleClaim = new("--oidc-role-claim")
    {
        Description = "The claim whose values are roles.", HelpName = "CLAIM", DefaultValueFactory = _ => "roles",
    };

    readonly Option<string[]> roleNames = new("--oidc-role") { Description = "A role's name there and here, as dock-staff=harbormaster; may be given several times.", HelpName = "THERE=HERE" };

    readonly Option<string?> defaultRole = new("--oidc-default-role") { Description = "The role of whoever has no other; without it he is not let in.", HelpName = "ROLE" };

    public void AddTo(Command command)
    {
        foreach (var option in new Option[] { noSignIn, certificate, key, authority, client, roleClaim, roleNames, defaultRole })
            command.Add(option);
        command.Validators.Add(result =>
        {
            // Its own parser says what else is wrong with it.
            var url = result.GetResult(http) is { Tokens: [var told, ..] } && Uri.TryCreate(told.Value, UriKind.Absolute, out var there) ? there : null;
            if (url?.Scheme == Uri.UriSchemeHttps != result.GetResult(certificate) is not null)
                result.AddError("--certificate goes with an https address, and an https address with --certificate");
            if (result.GetValue(noSignIn) && url?.IsLoopback == false)
                result.AddError("--no-sign-in is for an address of this machine only");
            if (result.GetResult(authority) is null != result.GetResult(client) is null)
                result.AddError("--oidc and --oidc-client go together");
            foreach (var pair in (result.GetValue(roleNames) ?? []).Where(pair => pair.Split('=') is not [{ Length: > 0 }, var here] || !Roles.All.Contains(here)))
                result.AddError($"--oidc-role must be a name there, =, and one of {string.Join(", ", Roles.All)}, not '{pair}'");
            if (result.GetValue(defaultRole) is { } role && (role == Roles.Administrator || !Roles.All.Contains(role)))
                result.AddError($"--oidc-default-role must be one of {string.Join(", ", Roles.All.Where(one => one != Roles.Administrator))}, not '{role}'");
        });
    }

    public AccessOptions Read(ParseResult parsed) => new()
    {
        NeedsSignIn = !parsed.GetValue(noSignIn),
        Certificate = parsed.GetValue(certificate) is { } file ? new(file, parsed.GetValue(key)) : null,
        OpenId = parsed.GetValue(authority) is { } issuer ? OpenId(parsed, issuer) : null,
    };

    OpenIdOptions OpenId(ParseResult parsed, Uri issuer) => new(issuer, parsed.GetValue(client)!, Environment.GetEnvironmentVariable(SecretVariable))
    {
        RoleClaim = parsed.GetRequiredValue(roleClaim),
        RoleNames = (parsed.GetValue(roleNames) ?? []).Select(pair => pair.Split('=')).ToDictionary(pair => pair[0], pair => pair[1]),
        DefaultRole = parsed.GetValue(defaultRole),
    };
}
