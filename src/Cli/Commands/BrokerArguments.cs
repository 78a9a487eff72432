using System.CommandLine;
using Farberth.Adapters.Mqtt;

namespace Farberth.Cli.Commands;

/// <summary>How a user names a broker and the way in.</summary>
sealed class BrokerArguments
{
    /// <summary>The password stays off the command line, where every user of the machine could read it.</summary>
    public const string PasswordVariable = "FARBERTH_MQTT_PASSWORD";

    readonly Option<string?> user = new("--user") { Description = $"User at the broker; the password is read from {PasswordVariable}." };
    readonly Option<bool> tls = new("--tls") { Description = "Connect with TLS." };
    readonly Option<string?> authority = new("--ca") { Description = "Trust this certificate authority (PEM) in place of the system's.", HelpName = "FILE" };
    readonly Option<string> version = new("--mqtt-version") { Description = "5 or 3.1.1.", DefaultValueFactory = _ => "5" };

    /// <summary>Host and port.</summary>
    public Option<(string Host, int Port)> Mqtt { get; } = new("--mqtt")
    {
        Description = $"The broker; port {MqttOptions.PlainPort} where none is given.",
        HelpName = "HOST:PORT",
        CustomParser = result =>
        {
            // A scheme of our own choice makes the address parser take host, [v6] and port as it does for web addresses.
            var text = result.Tokens[0].Value;
            if (Uri.TryCreate($"mqtt://{text}", UriKind.Absolute, out var url) && url.Host.Length > 0 && url.PathAndQuery is "" or "/" && url.Port != 0)
                return (url.IdnHost, url.Port < 0 ? MqttOptions.PlainPort : url.Port);
            result.AddError($"--mqtt must be HOST or HOST:PORT, not '{text}'");
            return default;
        },
    };

    public void AddTo(Command command)
    {
        version.AcceptOnlyFromAmong("5", "3.1.1");
        foreach (var option in new Option[] { Mqtt, user, tls, authority, version })
            command.Add(option);
    }

    /// <returns>Null where no broker is named.</returns>
    public MqttOptions? Read(ParseResult parsed, string clientId)
    {
        if (parsed.GetResult(Mqtt) is null)
            return null;
        var (host, port) = parsed.GetValue(Mqtt);
        return new MqttOptions(host, port, clientId)
        {
            User = parsed.GetValue(user),
            Password = Environment.GetEnvironmentVariable(PasswordVariable),
            Tls = parsed.GetValue(tls),
            AuthorityFile = parsed.GetValue(authority),
            Version = parsed.GetValue(version) == "5" ? MqttVersion.V5 : MqttVersion.V311,
        };
    }

    /// <summary>For a person who waits: the first connection must come about. Later the link comes back by itself.</summary>
    /// <exception cref="CommandFailure">It did not.</exception>
    public static async Task<MqttLink> Connect(MqttOptions options, IReadOnlyList<string> filters, CancellationToken stop)
    {
        var link = MqttLink.Start(options, filters);
        try
        {
            var state = await link.State.When(state => state.Phase != LinkPhase.Connecting, stop);
            return state.Phase == LinkPhase.Connected ? link : throw CommandFailure.Outside($"the broker: {state.Reason}");
        }
        catch
        {
            await link.DisposeAsync();
            throw;
        }
    }
}
