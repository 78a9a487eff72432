using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Farberth.Service.Access;

/// <summary>Who is let in, and how.</summary>
public sealed record AccessOptions
{
    /// <summary>Whoever reaches the address is let in: for a demo, on the loopback address only.</summary>
    public static readonly AccessOptions Everybody = new() { NeedsSignIn = false };

    public bool NeedsSignIn { get; init; } = true;

    /// <summary>Of the server, for an address that others reach; null on the loopback address.</summary>
    public CertificateFiles? Certificate { get; init; }

    /// <summary>Another server that knows who somebody is; null: none.</summary>
    public OpenIdOptions? OpenId { get; init; }
}

/// <param name="Certificate">A PEM file with the chain, or a PKCS #12 file that holds the key too.</param>
/// <param name="Key">A PEM file; null with PKCS #12.</param>
public sealed record CertificateFiles(string Certificate, string? Key)
{
    /// <exception cref="IOException">A file is not there, or holds no certificate.</exception>
    public X509Certificate2 Load()
    {
        try
        {
            // Windows keeps a key that was read from PEM for one use only, unless it has gone through PKCS #12.
            return Key is null ? X509CertificateLoader.LoadPkcs12FromFile(Certificate, null)
                : X509CertificateLoader.LoadPkcs12(X509Certificate2.CreateFromPemFile(Certificate, Key).Export(X509ContentType.Pkcs12), null);
        }
        catch (CryptographicException e)
        {
            throw new IOException($"{Certificate}: {e.Message}", e);
        }
    }
}

/// <summary>OpenID Connect, authorization code flow with PKCE (OpenID Connect Core 1.0).</summary>
/// <param name="Authority">Its issuer address.</param>
/// <param name="ClientSecret">Null for a public client.</param>
public sealed record OpenIdOptions(Uri Authority, string ClientId, string? ClientSecret)
{
    /// <summary>The claim whose values are roles of this program; others count for nothing.</summary>
    public string RoleClaim { get; init; } = "roles";

    /// <summary>Roles of this program by the names that the other server has for them.</summary>
    public IReadOnlyDictionary<string, string> RoleNames { get; init; } = new Dictionary<string, string>();

    /// <summary>Of whoever has no other; null: he is not let in.</summary>
    public string? DefaultRole { get; init; }
}
