namespace Farberth.Adapters.Notifiers.Email;

public enum MailTls
{
    /// <summary>In plain to begin with; nothing is said before it is encrypted.</summary>
    StartTls,

    /// <summary>Encrypted from the first byte.</summary>
    Implicit,

    /// <summary>For a server on the same machine.</summary>
    None,
}

/// <summary>The mail server that takes notices.</summary>
/// <param name="From">The sender's mail address.</param>
public sealed record MailOptions(string Host, int Port, string From)
{
    public MailTls Tls { get; init; } = MailTls.StartTls;

    public string? User { get; init; }

    public Secret? Password { get; init; }
}
