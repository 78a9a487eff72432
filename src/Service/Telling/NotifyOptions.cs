using Farberth.Adapters.Notifiers.Email;
using Farberth.Adapters.Notifiers;
using Farberth.Monitoring.Ports;

namespace Farberth.Service.Telling;

/// <summary>Whom to tell and by what, with the secrets read.</summary>
/// <param name="Mail">Null: nobody is told by mail.</param>
/// <param name="WebhookKey">Null: webhooks get unsigned events.</param>
/// <param name="Push">Null: nobody is told by Web Push.</param>
public sealed record NotifyOptions(IReadOnlyList<Contact> People, MailOptions? Mail, Secret? WebhookKey, PushOptions? Push)
{
    public static readonly NotifyOptions Nobody = new([], null, null, null);

    public TellingLimits Limits { get; init; } = TellingLimits.Usual;
}

/// <param name="Subject">"mailto:…" or "https://…": whom a push service may ask.</param>
public sealed record PushOptions(Secret Key, string Subject);
