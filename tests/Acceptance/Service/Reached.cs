using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>By which addresses the service can be reached.</summary>
public class Reached
{
    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    [Fact]
    public async Task Over_TLS_with_the_certificate_that_it_was_given()
    {
        using var folder = new TemporaryFolder();
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        using var own = new CertificateRequest("CN=dock", key, HashAlgorithmName.SHA256).CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(1));
        await File.WriteAllTextAsync(folder["dock.pem"], own.ExportCertificatePem(), FarberthCommand.Cancel);
        await File.WriteAllTextAsync(folder["dock.key"], key.ExportPkcs8PrivateKeyPem(), FarberthCommand.Cancel);
        using var service = FarberthCommand.Start(
            "run", SiteFile, "--broker", "0", "--http", "https://127.0.0.1:0", "--certificate", folder["dock.pem"], "--certificate-key", folder["dock.key"], "--data", folder["data"]);
        try
        {
            var told = new CommandLog();
            told.Follow(service.StandardOutput);
            var said = await told.When(line => line.StartsWith("site gullhaven: https://", StringComparison.Ordinal), 0, FarberthCommand.Cancel);
            var shown = "";
            using var handler = new HttpClientHandler { AllowAutoRedirect = false };
            handler.ServerCertificateCustomValidationCallback = (_, certificate, _, _) => (shown = certificate!.Thumbprint) == own.Thumbprint;
            using var browser = new HttpClient(handler) { BaseAddress = new Uri(said.Split(' ')[2].TrimEnd(',')) };
            using var answer = await browser.GetAsync("/", FarberthCommand.Cancel);
            Assert.Equal((HttpStatusCode.Redirect, own.Thumbprint), (answer.StatusCode, shown));
        }
        finally
        {
            service.Kill();
            await service.WaitForExitAsync(CancellationToken.None);
        }
    }

    /// <summary>The other server need not be there at the start; whoever wants to sign in there is sent to it, or told that it does not answer.</summary>
    [Fact]
    public async Task With_another_server_to_sign_in_at()
    {
        using var folder = new TemporaryFolder();
        using var service = FarberthCommand.Start(
            "run", SiteFile, "--broker", "0", "--http", "http://127.0.0.1:0", "--data", folder["data"], "--oidc", "http://127.0.0.1:9", "--oidc-client", "dock",
            "--oidc-role", "dock-staff=harbormaster", "--oidc-default-role", "viewer");
        try
        {
            var said = new CommandLog();
            said.Follow(service.StandardOutput);
            var address = new Uri((await said.When(line => line.StartsWith("site ", StringComparison.Ordinal), 0, FarberthCommand.Cancel)).Split(' ')[2].TrimEnd(','));
            using var browser = new HttpClient { BaseAddress = address };
            Assert.Contains("href=\"/sign-in/elsewhere\"", await browser.GetStringAsync("/sign-in", FarberthCommand.Cancel));
            Assert.Contains("The other server has not signed you in.", await browser.GetStringAsync("/sign-in/elsewhere", FarberthCommand.Cancel));
        }
        finally
        {
            await FarberthCommand.Interrupt(service);
            await service.WaitForExitAsync(CancellationToken.None);
        }
    }

    [Theory]
    [InlineData("--http", "http://0.0.0.0:8470")]
    [InlineData("--http", "https://0.0.0.0:8470")]
    [InlineData("--certificate", "dock.pem")]
    [InlineData("--no-sign-in", "--http", "https://0.0.0.0:8470", "--certificate", "dock.pem")]
    [InlineData("--oidc", "https://accounts.example.org")]
    [InlineData("--oidc", "http://accounts.example.org", "--oidc-client", "dock")]
    [InlineData("--oidc", "https://accounts.example.org", "--oidc-client", "dock", "--oidc-role", "staff=captain")]
    [InlineData("--oidc", "https://accounts.example.org", "--oidc-client", "dock", "--oidc-default-role", "administrator")]
    public async Task Not_without_what_makes_it_safe(params string[] arguments) =>
        Assert.Equal(2, (await FarberthCommand.Run(["run", SiteFile, "--broker", "0", .. arguments])).Status);
}
