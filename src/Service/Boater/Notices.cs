using System.Net.Mail;
using System.Security.Cryptography;
using System.Text;
using System.Threading.RateLimiting;
using Farberth.Adapters.Notifiers.Email;
using Farberth.Adapters.Notifiers.WebPush;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Service.Access;
using Farberth.Service.Journaling;
using Farberth.Service.Telling;

namespace Farberth.Service.Boater;

/// <summary>How asking to be told has gone; each has its words in the page's resources.</summary>
public enum Said
{
    Sent,
    On,
    Stopped,
    Bad,
    Many,
    Full,
    Away,
    Unsent,
}

/// <summary>Boaters who want to be told, each for the length of the stay whose link he has.</summary>
sealed class Notices(NotifyOptions options, JournalKeeper keeper, ContactBook contacts, TimeProvider clock) : IDisposable
{
    /// <summary>A crew with its phones (assumed).</summary>
    public const int MostAStay = 8;

    /// <summary>Mails to strangers that one link can cause.</summary>
    public const int MailsAnHour = 5;

    const int LongestMail = 254, LongestPush = 2048; // RFC 5321, section 4.5.3.1.3; assumed

    static readonly TimeSpan MailWithin = TimeSpan.FromSeconds(10);

    readonly PartitionedRateLimiter<long> mails = PartitionedRateLimiter.Create<long, long>(stay =>
        RateLimitPartition.GetFixedWindowLimiter(stay, _ => new() { PermitLimit = MailsAnHour, Window = TimeSpan.FromHours(1) }));

    readonly Lock gate = new();

    public bool HasMail => options.Mail != null;

    /// <summary>The key by which a browser subscribes; null: Web Push is not set up.</summary>
    public string? PushKey { get; } = options.Push is { } push ? Public(push) : null;

    /// <summary>Mails the address, and asks whether it is meant.</summary>
    public async Task<Said> Ask(BoatStay stay, string? address, Func<string, (string Subject, string Text)> mail, CancellationToken cancel)
    {
        if (Cleaned(address) is not { } to)
            return Said.Bad;
        if (IsFull(stay, Name(stay, Channel.Mail, to)))
            return Said.Full;
        using var lease = mails.AttemptAcquire(stay.Id);
        if (!lease.IsAcquired)
            return Said.Many;
        var (subject, text) = mail(to);
        var outcome = await new MailNotifier(options.Mail!, clock, MailWithin).Send(subject, text, to, cancel).ConfigureAwait(false);
        return outcome is TellingOutcome.Delivered ? Said.Sent : Said.Unsent;
    }

    /// <summary>The address has said yes.</summary>
    /// <param name="language">In which he is told: one of <see cref="Words.WordBook.Languages"/>.</param>
    public Said TellMail(BoatStay stay, string address, string language) => Cleaned(address) is { } to ? Keep(stay, new(Channel.Mail, to), language) : Said.Bad;

    public Said StopMail(BoatStay stay, string? address) => Cleaned(address) is { } to ? Stop(Name(stay, Channel.Mail, to)) : Said.Bad;

    /// <param name="subscription">As the browser gives it.</param>
    public Said TellPush(BoatStay stay, string subscription, string language) =>
        subscription.Length <= LongestPush && PushNotifier.MayBeTold(subscription) ? Keep(stay, new(Channel.Push, subscription), language) : Said.Bad;

    public Said StopPush(BoatStay stay, string subscription) => Stop(Name(stay, Channel.Push, subscription));

    /// <summary>Out of a notice.</summary>
    /// <param name="contact">As a code has named it.</param>
    public Said StopContact(string contact) => Stop(contact);

    /// <summary>Nobody is told any more of a stay, and its addresses are forgotten.</summary>
    public void StopAll(long stay)
    {
        foreach (var contact in contacts.Value.Where(contact => StayOf(contact) == stay))
            Stop(contact.Name);
    }

    /// <summary>Stays of which somebody is told.</summary>
    public IReadOnlyList<long> Told => [.. contacts.Value.Select(StayOf).OfType<long>().Distinct()];

    public void Dispose() => mails.Dispose();

    Said Keep(BoatStay stay, Address address, string language)
    {
        var name = Name(stay, address.Channel, address.Endpoint);
        lock (gate)
        {
            if (IsFull(stay, name))
                return Said.Full;
            try
            {
                keeper.Keep(new Contact(name, Audience.Boater, [address])
                {
                    Slip = stay.Slip, Stay = new(stay.From, stay.To), Language = language, Origin = ContactOrigin.Entered,
                });
                return Said.On;
            }
            catch (JournalException)
            {
                return Said.Away;
            }
        }
    }

    Said Stop(string name)
    {
        try
        {
            keeper.Remove(name);
            return Said.Stopped;
        }
        catch (JournalException)
        {
            return Said.Away;
        }
    }

    bool IsFull(BoatStay stay, string name) => contacts.Value.Count(contact => StayOf(contact) == stay.Id && contact.Name != name) >= MostAStay;

    /// <summary>The same for the same address, which it does not show.</summary>
    static string Name(BoatStay stay, Channel channel, string endpoint) => string.Concat(
        $"stay {stay.Id} {channel.ToString().ToLowerInvariant()} ", Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(endpoint)))[..12]);

    static long? StayOf(Contact contact) => contact is { Origin: ContactOrigin.Entered } && contact.Name.Split(' ') is ["stay", var id, _, _]
        && long.TryParse(id, System.Globalization.CultureInfo.InvariantCulture, out var number) ? number : null;

    static string? Cleaned(string? address) => address?.Trim() is { Length: > 0 and <= LongestMail } text
        && MailAddress.TryCreate(text, out var parsed) && parsed.Address == text && !text.Any(char.IsControl) ? text : null;

    static string Public(PushOptions push)
    {
        using var key = VapidKey.Read(push.Key, push.Subject);
        return key.PublicKey;
    }
}
