using System.Security.Cryptography;
using System.Text;
using Farberth.Adapters.Notifiers.Email;
using Farberth.Adapters.Notifiers.WebPush;
using Farberth.Adapters.Notifiers.Webhook;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telling;
using Farberth.Service.Boater;
using Farberth.Service.Journaling;
using Farberth.Service.Watched;
using Microsoft.Extensions.DependencyInjection;
using Serilog;

namespace Farberth.Service.Telling;

/// <summary>Journal and notifiers put together.</summary>
static class TellingServices
{
    /// <summary>One attempt; a server that needs longer is tried again.</summary>
    static readonly TimeSpan Within = TimeSpan.FromSeconds(20);

    public static IServiceCollection AddTelling(this IServiceCollection services, ServiceOptions options, TimeProvider clock) => services
        .AddSingleton(Setup(options, clock))
        .AddSingleton(new ContactBook(options.Notify.People))
        .AddSingleton(provider => new Teller(
            Notifiers(options.Notify, clock), Words(options, provider.GetRequiredService<BoaterNotices>()), provider.GetRequiredService<ContactBook>(), options.Notify.Limits, clock,
            provider.GetRequiredService<ILogger>()))
        .AddSingleton<JournalKeeper>()
        // They are stopped from the last to the first: what the teller has done is written down by the keeper.
        .AddHostedService(provider => provider.GetRequiredService<JournalKeeper>())
        .AddHostedService(provider => Reporting(provider.GetRequiredService<Teller>(), provider.GetRequiredService<JournalKeeper>(), provider.GetRequiredService<ServiceMetrics>()));

    static Teller Reporting(Teller teller, JournalKeeper keeper, ServiceMetrics metrics)
    {
        teller.Told = rows =>
        {
            keeper.Note(rows);
            metrics.Notified(rows);
        };
        return teller;
    }

    /// <summary>Staff reads the monitor's own sentences; a boater nothing of anybody else.</summary>
    static Wording Words(ServiceOptions options, BoaterNotices boater)
    {
        var staff = new NoticeWords(options.Site);
        return (to, events, leftOut) => to.Role == Audience.Boater ? boater.Of(to, events, leftOut) : staff.Digest(events, leftOut);
    }

    static JournalSetup Setup(ServiceOptions options, TimeProvider clock) => new(
        options.Journal, options.Notify.People, options.SiteText is { } text
            ? new SiteFileVersion(text, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))), clock.GetUtcNow()) : null);

    static IReadOnlyList<INotifier> Notifiers(NotifyOptions options, TimeProvider clock) =>
    [
        new WebhookNotifier(options.WebhookKey, clock, Within),
        .. options.Mail is { } mail ? [new MailNotifier(mail, clock, Within)] : Array.Empty<INotifier>(),
        .. options.Push is { } push ? [new PushNotifier(VapidKey.Read(push.Key, push.Subject), clock, Within)] : Array.Empty<INotifier>(),
    ];
}
