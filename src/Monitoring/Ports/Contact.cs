using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Ports;

/// <summary>A way to tell somebody something.</summary>
public enum Channel
{
    Mail,
    Webhook,
    Push,
}

/// <summary>Somebody who may be told something.</summary>
/// <param name="Name">Names the contact within the site.</param>
/// <param name="Role">One of the three.</param>
/// <param name="Addresses">At most one a channel.</param>
public sealed record Contact(string Name, Audience Role, IReadOnlyList<Address> Addresses)
{
    /// <summary>Of a boater.</summary>
    public string? Slip { get; init; }

    /// <summary>When a boater lies in the slip; null: always.</summary>
    public Stay? Stay { get; init; }

    /// <summary>Two letters (ISO 639-1) of the language in which he reads; null: English.</summary>
    public string? Language { get; init; }

    /// <summary>Who wrote it down: the file of settings, or the person.</summary>
    public ContactOrigin Origin { get; init; }
}

public enum ContactOrigin
{
    /// <summary>From the file of settings, which is the whole truth about these.</summary>
    File,

    /// <summary>Entered while the service ran.</summary>
    Entered,
}

/// <summary>From a moment on, up to but not at another.</summary>
public sealed record Stay(DateTimeOffset From, DateTimeOffset? To)
{
    public bool Covers(DateTimeOffset moment) => From <= moment && (To is not { } end || moment < end);
}

/// <summary>Where somebody is reached on a channel.</summary>
/// <param name="Endpoint">
/// A mail address; a webhook's URL; of Web Push the subscription as the browser gives it (W3C Push API), with its keys. Whoever has one of
/// the last two may send there, so it is not shown.
/// </param>
public sealed record Address(Channel Channel, string Endpoint)
{
    /// <summary>Without the endpoint.</summary>
    public override string ToString() => $"{Channel} address";
}
