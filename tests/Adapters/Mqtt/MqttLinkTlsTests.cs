using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Farberth.Adapters.Mqtt;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Mqtt;

public class MqttLinkTlsTests : BrokerTests
{
    [Fact]
    public async Task With_the_brokers_authority_the_link_is_encrypted_and_without_it_there_is_none()
    {
        await using var broker = await MosquittoBroker.Start(Cancel, (text, folder) =>
        {
            WriteCertificates(folder);
            return text.Replace("allow_anonymous true",
                $"allow_anonymous true\ncertfile {folder}/broker.pem\nkeyfile {folder}/broker.key", StringComparison.Ordinal);
        });
        var options = Options(broker.Host, broker.Port) with { Tls = true, AuthorityFile = Path.Combine(broker.Folder, "authority.pem") };
        await using (var link = await Connect(options, "t"))
        {
            // From another link: mosquitto_pub needs other arguments here.
            await using var other = await Connect(options with { ClientId = "other" });
            Assert.True((await other.Publish(Message("t", "x"), Cancel)).IsAccepted);
            Assert.Equal(("t", "x"), await Next(link));
        }

        await using var distrustful = MqttLink.Start(options with { AuthorityFile = null }, []);
        var away = await distrustful.State.When(state => state.Phase == LinkPhase.Waiting, Cancel);
        Assert.Contains("certificate", away.Reason, StringComparison.Ordinal);
        await using var plain = MqttLink.Start(options with { Tls = false, ClientId = "plain" }, []);
        await plain.State.When(state => state.Phase == LinkPhase.Waiting, Cancel);
        Assert.Equal((0, 0), (distrustful.Counts.Connections, plain.Counts.Connections));
    }

    static void WriteCertificates(string folder)
    {
        var (from, to) = (DateTimeOffset.UtcNow.AddMinutes(-5), DateTimeOffset.UtcNow.AddHours(1));
        using var authorityKey = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=Test authority", authorityKey, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        using var authority = request.CreateSelfSigned(from, to);

        using var brokerKey = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var brokerRequest = new CertificateRequest("CN=127.0.0.1", brokerKey, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddIpAddress(IPAddress.Loopback);
        brokerRequest.CertificateExtensions.Add(names.Build());
        using var broker = brokerRequest.Create(authority, from, to.AddMinutes(-1), [1, 2, 3]);

        File.WriteAllText(Path.Combine(folder, "authority.pem"), authority.ExportCertificatePem());
        File.WriteAllText(Path.Combine(folder, "broker.pem"), broker.ExportCertificatePem());
        File.WriteAllText(Path.Combine(folder, "broker.key"), brokerKey.ExportECPrivateKeyPem());
    }
}
