using System.Buffers;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Threading.Channels;
using MimeKit;
using SmtpServer;
using SmtpServer.Authentication;
using SmtpServer.ComponentModel;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace Farberth.Adapters.Tests.Notifiers;

/// <summary>A real mail server on a loopback port, which keeps what it takes and answers as it is told.</summary>
sealed class MailServer : MessageStore, IMailboxFilter, IAsyncDisposable
{
    readonly CancellationTokenSource closing = new();
    readonly Channel<MimeMessage> taken = Channel.CreateUnbounded<MimeMessage>();
    Task running = Task.CompletedTask;

    public int Port { get; private set; }

    public SmtpResponse Answer { get; set; } = SmtpResponse.Ok;

    /// <summary>What it thinks of recipients.</summary>
    public Func<bool> TakesRecipient { get; set; } = () => true;

    public string? Login { get; private set; }

    /// <param name="password">Wanted of whoever sends; null: nobody has to say who he is.</param>
    public static MailServer Start(bool withTls = false, string? password = null)
    {
        var mail = new MailServer { Port = FreePort() };
        var options = new SmtpServerOptionsBuilder().ServerName("test").Endpoint(endpoint =>
        {
            endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, mail.Port)).AllowUnsecureAuthentication(true).AuthenticationRequired(password != null);
            if (withTls)
                endpoint.Certificate(SelfSigned());
        });
        var services = new ServiceProvider();
        services.Add((IMessageStore)mail);
        services.Add((IMailboxFilterFactory)new DelegatingMailboxFilterFactory(_ => mail));
        services.Add((IUserAuthenticatorFactory)new DelegatingUserAuthenticatorFactory(_ => new Authenticator(mail, password)));
        mail.running = new SmtpServer.SmtpServer(options.Build(), services).StartAsync(mail.closing.Token);
        return mail;
    }

    public ValueTask<MimeMessage> Next() => taken.Reader.ReadAsync(TestContext.Current.CancellationToken);

    public override async Task<SmtpResponse> SaveAsync(ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
    {
        if (Answer == SmtpResponse.Ok)
            taken.Writer.TryWrite(await MimeMessage.LoadAsync(new MemoryStream(buffer.ToArray()), cancellationToken));
        return Answer;
    }

    public Task<bool> CanAcceptFromAsync(ISessionContext context, IMailbox from, int size, CancellationToken cancellationToken) => Task.FromResult(true);

    public Task<bool> CanDeliverToAsync(ISessionContext context, IMailbox to, IMailbox from, CancellationToken cancellationToken) => Task.FromResult(TakesRecipient());

    public async ValueTask DisposeAsync()
    {
        await closing.CancelAsync();
        await running.WaitAsync(TestContext.Current.CancellationToken);
        closing.Dispose();
    }

    static X509Certificate2 SelfSigned()
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest("CN=127.0.0.1", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        using var made = request.CreateSelfSigned(DateTimeOffset.UnixEpoch, new(2100, 1, 1, 0, 0, 0, TimeSpan.Zero));
        return X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pkcs12), null);
    }

    static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    sealed class Authenticator(MailServer mail, string? password) : UserAuthenticator
    {
        public override Task<bool> AuthenticateAsync(ISessionContext context, string user, string given, CancellationToken cancellationToken)
        {
            mail.Login = user;
            return Task.FromResult(given == password);
        }
    }
}
