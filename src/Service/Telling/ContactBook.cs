using Farberth.Monitoring.Ports;

namespace Farberth.Service.Telling;

/// <summary>Everybody who may be told something, as known now: one writer, any number of readers.</summary>
public sealed class ContactBook(IReadOnlyList<Contact> first)
{
    volatile IReadOnlyList<Contact> value = first;

    public IReadOnlyList<Contact> Value => value;

    public void Set(IReadOnlyList<Contact> contacts) => value = contacts;

    /// <returns>Null: he is not there.</returns>
    public Contact? Find(string name) => value.FirstOrDefault(contact => contact.Name == name);

    /// <returns>Null: he is not there, or has no such address.</returns>
    public Address? Find(string name, Channel channel) =>
        Find(name)?.Addresses.FirstOrDefault(address => address.Channel == channel);
}
