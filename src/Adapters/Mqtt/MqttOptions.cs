namespace Farberth.Adapters.Mqtt;

public enum MqttVersion
{
    V311,
    V5,
}

/// <summary>How to reach a broker and how to behave there.</summary>
/// <param name="ClientId">One of its kind at the broker; the broker keeps the session under this name.</param>
public sealed record MqttOptions(string Host, int Port, string ClientId)
{
    public const int PlainPort = 1883;

    public string? User { get; init; }
    public string? Password { get; init; }
    public bool Tls { get; init; }

    /// <summary>PEM file of the certificate authority to trust in place of the system's.</summary>
    public string? AuthorityFile { get; init; }

    public MqttVersion Version { get; init; } = MqttVersion.V5;
    public TimeSpan KeepAlive { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How long the broker keeps what arrives while the link is away; zero: nothing is kept. MQTT 3.1.1 knows only zero or no end.</summary>
    public TimeSpan SessionExpiry { get; init; } = TimeSpan.FromDays(1);

    /// <summary>Places of 4 KiB between the connection and whoever takes the messages; each takes one or more.</summary>
    public int Capacity { get; init; } = 4096;

    /// <summary>For connecting, and for the broker's answer to a publish or a subscription.</summary>
    public TimeSpan AnswerWithin { get; init; } = TimeSpan.FromSeconds(10);

    public Backoff Backoff { get; init; } = Backoff.Usual;

    /// <summary>Without the password.</summary>
    public override string ToString() => $"{Host}:{Port} as {ClientId}";
}
