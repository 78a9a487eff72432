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

    [Theory]
    [InlineData("--http", "http://0.0.0.0:8470")]
    [InlineData("--http", "https://0.0.0.0:8470")]
    [InlineData("--certificate", "dock.pem")]
    [InlineData("--no-sign-in", "--http", "https://0.0.0.0:8470", "--certificate", "dock.pem")]
    [InlineData("--oidc", "https://accounts.example.org")]
    public async Task Not_without_what_makes_it_safe(params string[] arguments) =>
        Assert.Equal(2, (await FarberthCommand.Run(["run", SiteFile, "--broker", "0", .. arguments])).Status);
}
