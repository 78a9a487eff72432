using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace Farberth.Adapters.Mqtt;

/// <summary>Our words into the library's and back.</summary>
static class MqttTerms
{
    /// <summary>
    /// Of the socket. The library's 8 KiB stop the system from choosing: with a burst of large readings waiting, Mosquitto on loopback was then
    /// seen to get through 80 messages a second, and its answers came minutes late.
    /// </summary>
    const int BufferBytes = 256 * 1024;

    public static MqttClientOptions ToClientOptions(MqttOptions options)
    {
        var isV5 = options.Version == MqttVersion.V5;
        var keepsSession = options.SessionExpiry > TimeSpan.Zero;
        var builder = new MqttClientOptionsBuilder()
            .WithTcpServer(options.Host, options.Port)
            .WithClientId(options.ClientId)
            .WithProtocolVersion(isV5 ? MqttProtocolVersion.V500 : MqttProtocolVersion.V311)
            .WithKeepAlivePeriod(options.KeepAlive)
            .WithTimeout(options.AnswerWithin)
            .WithCleanStart(!keepsSession);
        if (isV5)
            builder.WithSessionExpiryInterval((uint)Math.Min(options.SessionExpiry.TotalSeconds, uint.MaxValue));
        if (options.User is not null)
            builder.WithCredentials(options.User, options.Password);
        if (options.Tls)
            builder.WithTlsOptions(tls => Secure(tls, options));
        var built = builder.Build();
        ((MqttClientTcpOptions)built.ChannelOptions).BufferSize = BufferBytes;
        return built;
    }

    public static MqttClientSubscribeOptions ToSubscription(IReadOnlyList<string> filters, MqttVersion version)
    {
        var builder = new MqttClientSubscribeOptionsBuilder();
        foreach (var filter in filters)
            builder.WithTopicFilter(new MqttTopicFilter
            {
                Topic = filter,
                QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
                NoLocal = version == MqttVersion.V5,
            });
        return builder.Build();
    }

    /// <summary>Null for a yes; else whether somebody has to change something before it can become one, and why.</summary>
    public static LinkFailure? Failure(MqttClientConnectResult result) => result.ResultCode switch
    {
        MqttClientConnectResultCode.Success => null,
        MqttClientConnectResultCode.BadUserNameOrPassword => Refusal("the user name or the password is wrong", result.ReasonString),
        MqttClientConnectResultCode.NotAuthorized => Refusal("this user is not allowed to connect", result.ReasonString),
        MqttClientConnectResultCode.Banned => Refusal("this client is banned", result.ReasonString),
        MqttClientConnectResultCode.ClientIdentifierNotValid => Refusal("the client id is not taken", result.ReasonString),
        MqttClientConnectResultCode.UnsupportedProtocolVersion => Refusal("the broker does not speak this version of MQTT", result.ReasonString),
        var other => new LinkFailure(LinkPhase.Waiting, Join($"the broker answered {other}", result.ReasonString)),
    };

    /// <summary>Null when the broker granted every filter at QoS 1.</summary>
    public static LinkFailure? Failure(MqttClientSubscribeResult result)
    {
        var refused = result.Items.Where(item => item.ResultCode != MqttClientSubscribeResultCode.GrantedQoS1).ToList();
        return refused.Count == 0 ? null : Refusal(
            "subscription " + string.Join(", ", refused.Select(item => $"{item.TopicFilter.Topic} was answered {item.ResultCode}")), result.ReasonString);
    }

    public static string Innermost(Exception e) => e.GetBaseException().Message;

    public static string Join(string text, string? detail) => string.IsNullOrEmpty(detail) ? text : $"{text} ({detail})";

    static LinkFailure Refusal(string reason, string? detail) =>
        new(LinkPhase.Refused, Join($"the broker refused: {reason}", detail) + "; this stays so until it is put right");

    static void Secure(MqttClientTlsOptionsBuilder tls, MqttOptions options)
    {
        tls.UseTls().WithTargetHost(options.Host);
        if (options.AuthorityFile is null)
            return;
        var authorities = new X509Certificate2Collection();
        authorities.ImportFromPemFile(options.AuthorityFile);
        tls.WithTrustChain(authorities);
    }
}

/// <summary>Why there is no connection.</summary>
/// <param name="Phase">Waiting or Refused.</param>
/// <param name="IsOverrun">Nothing is wrong with the broker: it is asked again as soon as there is room.</param>
sealed record LinkFailure(LinkPhase Phase, string Reason, bool IsOverrun = false);
