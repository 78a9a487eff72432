using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>People and their addresses, as rows.</summary>
static class ContactRows
{
    public static void Keep(SqlSession session, Contact contact)
    {
        Remove(session, contact.Name);
        session.Execute(
            """
            INSERT INTO contacts (site, name, role, slip, from_ms, to_ms, origin, language) VALUES (@site, @name, @role, @slip, @from, @to, @origin, @language)
            """,
            ("name", contact.Name), ("role", contact.Role.Lower()), ("slip", contact.Slip), ("from", contact.Stay?.From.Milliseconds()),
            ("to", contact.Stay?.To?.Milliseconds()), ("origin", contact.Origin.Lower()), ("language", contact.Language));
        foreach (var address in contact.Addresses)
            session.Execute(
                "INSERT INTO addresses (site, contact, channel, endpoint) VALUES (@site, @name, @channel, @endpoint)",
                ("name", contact.Name), ("channel", address.Channel.Lower()), ("endpoint", address.Endpoint));
    }

    public static void Remove(SqlSession session, string name) =>
        session.Execute("DELETE FROM contacts WHERE site = @site AND name = @name", ("name", name));

    public static List<Contact> All(SqlSession session)
    {
        var addresses = session.Query(
            "SELECT contact, channel, endpoint FROM addresses WHERE site = @site",
            row => (Contact: row.GetString(0), Address: new Address(row.Choice<Channel>(1), row.GetString(2))));
        var byContact = addresses.ToLookup(one => one.Contact, one => one.Address);
        var contacts = session.Query(
            "SELECT name, role, slip, from_ms, to_ms, origin, language FROM contacts WHERE site = @site",
            row => new Contact(row.GetString(0), row.Choice<Audience>(1), [.. byContact[row.GetString(0)].OrderBy(address => address.Channel)])
            {
                Slip = row.TextOrNull(2),
                Stay = row.TimeOrNull(3) is { } from ? new Stay(from, row.TimeOrNull(4)) : null,
                Origin = row.Choice<ContactOrigin>(5),
                Language = row.TextOrNull(6),
            });
        return [.. contacts.OrderBy(contact => contact.Name, StringComparer.Ordinal)];
    }
}
