using System.Globalization;
using System.Text.RegularExpressions;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Site.FileFormat;

namespace Farberth.Monitoring.Telling.FileFormat;

/// <summary>The people, each with a role and at least one address.</summary>
sealed partial class PeopleReader(ValueReader read, SiteDefinition site, bool hasMail, bool hasPush)
{
    const int LongestName = 64;

    static readonly KeySet Person = new("person", ["name", "role"], ["mail", "webhook", "push", "slip", "from", "to"]);

    static readonly IReadOnlyList<(string, Audience)> Roles =
        [("electrician", Audience.Electrician), ("harbormaster", Audience.Harbormaster), ("boater", Audience.Boater)];

    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);

    public IReadOnlyList<Contact> Read(YamlValue? value)
    {
        var people = new SortedDictionary<string, Contact>(StringComparer.Ordinal);
        foreach (var item in read.List(value, "- { name: Ana, role: electrician, mail: ana@example.org }"))
            if (ReadPerson(item) is { } contact && !people.TryAdd(contact.Name, contact))
                read.Wrong(item.At, $"{Spelling.Quote(contact.Name)} is there twice; give each person a name of their own.");
        return [.. people.Values];
    }

    Contact? ReadPerson(YamlValue value)
    {
        var fields = read.Fields(value, Person);
        var (name, role) = (read.Text(fields["name"]), read.Choice(fields["role"], Roles));
        if (name?.Length is 0 or > LongestName)
            read.Wrong(fields["name"]!.At, $"A name has 1 to {LongestName} letters.");
        var addresses = Addresses(fields);
        if (addresses.Count == 0 && fields["mail"] == null && fields["webhook"] == null && fields["push"] == null)
            read.Wrong(value.At, "There is no way to reach this person; add 'mail', 'webhook' or 'push'.");
        var (slip, stay) = (read.Text(fields["slip"]), ReadStay(fields));
        if (slip != null && !site.Slips.ContainsKey(slip))
            read.Wrong(fields["slip"]!.At, $"The site has no slip {Spelling.Quote(slip)}.");
        if (role != null && (role == Audience.Boater) != (slip != null))
            read.Wrong(value.At, role == Audience.Boater ? "A boater needs a 'slip'." : "Only a boater has a 'slip'.");
        if (role == Audience.Boater && fields["webhook"] is { } webhook)
            read.Wrong(webhook.At, "A boater is told by 'mail' or 'push': a webhook gets all of an event, also what concerns other slips.");
        return name == null || role == null ? null : new(name, role.Value, addresses) { Slip = slip, Stay = stay };
    }

    List<Address> Addresses(Fields fields)
    {
        var addresses = new List<Address>();
        Add(Channel.Mail, "mail", IsMailAddress, "is no mail address.", hasMail);
        Add(Channel.Webhook, "webhook", text => Uri.TryCreate(text, UriKind.Absolute, out var url) && url.Scheme is "https" or "http", "is no http or https address.", true);
        Add(Channel.Push, "push", text => text.StartsWith('{'), "is no push subscription; write the browser's JSON in quotes.", hasPush);
        return addresses;

        void Add(Channel channel, string key, Func<string, bool> isGood, string wrong, bool isSetUp)
        {
            if (read.Text(fields[key]) is not { } text)
                return;
            if (!isGood(text))
                read.Wrong(fields[key]!.At, $"What stands here {wrong}");
            else if (!isSetUp)
                read.Wrong(fields[key]!.At, $"Nobody can be told by '{key}': this file has no '{key}:' section.");
            else
                addresses.Add(new(channel, text));
        }
    }

    /// <summary>Whole days at the dock: from the morning of the first to the end of the last.</summary>
    Stay? ReadStay(Fields fields)
    {
        var (from, to) = (Day(fields["from"]), Day(fields["to"]));
        if (from == null && to == null)
            return null;
        if (from > to)
            read.Wrong(fields["to"]!.At, "The last day is before the first.");
        return new(from is { } first ? Midnight(first) : DateTimeOffset.UnixEpoch, to is { } last ? Midnight(last.AddDays(1)) : null);
    }

    DateOnly? Day(YamlValue? value)
    {
        if (read.Text(value) is not { } text)
            return null;
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) && day.Year is > 1970 and < 9000)
            return day;
        read.Wrong(value!.At, $"{Spelling.Quote(text)} is no day; write it as 2027-07-17.");
        return null;
    }

    DateTimeOffset Midnight(DateOnly day)
    {
        var midnight = day.ToDateTime(TimeOnly.MinValue, DateTimeKind.Unspecified);
        return new DateTimeOffset(midnight, zone.GetUtcOffset(midnight)).ToUniversalTime();
    }

    public static bool IsMailAddress(string text) => MailAddress().IsMatch(text);

    /// <summary>Only what is surely wrong is refused here: the mail server knows the rest. With or without a name in front.</summary>
    [GeneratedRegex(@"^([^<>\r\n]+<[^@<>\s]+@[^@<>\s]+>|[^@<>\s]+@[^@<>\s]+)\z")]
    private static partial Regex MailAddress();
}
