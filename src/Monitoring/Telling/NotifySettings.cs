using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Telling;

/// <summary>Whom to tell and by what, as the file of settings says; it names where secrets are and holds none.</summary>
public sealed record NotifySettings(IReadOnlyList<Contact> People, MailSettings? Mail, SecretSource? WebhookKey, PushSettings? Push);

/// <param name="From">The sender's mail address.</param>
/// <param name="Tls">One of <see cref="NotifyFile.TlsWords"/>.</param>
public sealed record MailSettings(string Host, int Port, string From, string Tls, string? User, SecretSource? Password);

/// <param name="Subject">"mailto:…" or "https://…": whom a push service may ask.</param>
public sealed record PushSettings(SecretSource Key, string Subject);

/// <summary>Where a secret is: in an environment variable, or in a file. One of the two is null.</summary>
public sealed record SecretSource(string? Variable, string? File);

/// <summary>The settings, or every mistake of the file.</summary>
public sealed record NotifyFileResult(NotifySettings? Settings, IReadOnlyList<SiteMistake> Mistakes);
