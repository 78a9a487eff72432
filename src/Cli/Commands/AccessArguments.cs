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

    readonly Option<Uri?> authority = new("--oidc") { Description = $"Also sign in at this OpenID Connect server; a client secret is read from {SecretVariable}.", HelpName = "ISSUER" };

    readonly Option<string?> client = new("--oidc-client") { Description = "What this service is called there.", HelpName = "ID" };

    public void AddTo(Command command)
    {
        foreach (var option in new Option[] { noSignIn, certificate, key, authority, client })
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
        });
    }

    public AccessOptions Read(ParseResult parsed) => new()
    {
        NeedsSignIn = !parsed.GetValue(noSignIn),
        Certificate = parsed.GetValue(certificate) is { } file ? new(file, parsed.GetValue(key)) : null,
        OpenId = parsed.GetValue(authority) is { } issuer ? new(issuer, parsed.GetValue(client)!, Environment.GetEnvironmentVariable(SecretVariable)) : null,
    };
}
