using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Tests.Mqtt;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Deploy;

/// <summary>The access list that is shipped, in Debian's Mosquitto: who may say what.</summary>
public class BrokerRulesTests : BrokerTests
{
    static readonly (string User, string Topic, bool May)[] Rules =
    [
        ("G1", "pedestal/G1/reading", true),
        ("G1", "pedestal/G1/link", true),
        ("G1", "pedestal/G2/reading", false),
        ("G1", "pedestal/G2/link", false),
        ("G1", "weather", false),
        ("G1", "slip/G-1/boat", false),
        ("G1", "alarm/G.G1.A.overload", false),
        ("G1", "alarm/G.G1.A.overload/acknowledge", false),
        ("weather", "weather", true),
        ("weather", "pedestal/G1/reading", false),
        ("office", "alarm/G.G1.A.overload/acknowledge", true),
        ("office", "alarm/G.G1.A.overload/shelve", true),
        ("office", "slip/G-1/boat", true),
        ("office", "alarm/G.G1.A.overload", false),
        ("office", "pedestal/G1/reading", false),
        ("farberth", "alarm/G.G1.A.overload", true),
        ("farberth", "dock/G/state", true),
        ("farberth", "slip/G-1/advice", true),
    ];

    [Fact]
    public async Task A_pedestal_speaks_for_itself_only_and_commands_come_from_the_office()
    {
        await using var broker = await Guarded();
        foreach (var user in Rules.GroupBy(rule => rule.User))
        {
            await using var link = await Connect(As(broker, user.Key));
            foreach (var (_, topic, may) in user)
                Assert.Equal((user.Key, topic, may), (user.Key, topic, (await link.Publish(Message("farberth/v1/s/" + topic, "{}"), Cancel)).IsAccepted));
        }
    }

    [Fact]
    public async Task A_pedestal_reads_nothing_and_the_service_reads_it()
    {
        await using var broker = await Guarded();
        await using var pedestal = await Connect(As(broker, "G1"), "farberth/v1/#");
        await using var service = await Connect(As(broker, "farberth"), "farberth/v1/s/#");
        Assert.True((await pedestal.Publish(Message("farberth/v1/s/pedestal/G1/reading", "1"), Cancel)).IsAccepted);
        Assert.Equal("1", (await Next(service)).Payload);
        await using var other = await Connect(As(broker, "farberth") with { ClientId = "publisher" });
        Assert.True((await other.Publish(Message("farberth/v1/s/weather", "2"), Cancel)).IsAccepted);
        Assert.Equal("2", (await Next(service)).Payload); // it has been round the broker, and past the pedestal
        Assert.False(pedestal.Messages.TryRead(out _));
    }

    [Fact]
    public async Task Without_a_password_nobody_gets_in()
    {
        await using var broker = await Guarded();
        await using var link = MqttLink.Start(Options(broker.Host, broker.Port), []);
        await link.State.When(state => state.Phase == LinkPhase.Refused, Cancel);
    }

    /// <summary>The listener of network.conf without its certificates, which have a test of their own.</summary>
    async Task<MosquittoBroker> Guarded()
    {
        var broker = await MosquittoBroker.Start(Cancel, (text, folder) =>
        {
            var passwords = Path.Combine(folder, "passwords");
            File.WriteAllText(passwords, "");
            foreach (var user in Rules.Select(rule => rule.User).Distinct())
                Command.Run("mosquitto_passwd", ["-b", passwords, user, "of-" + user], Cancel).GetAwaiter().GetResult();
            var network = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "deploy", "mosquitto", "network.conf"));
            var guards = network[network.IndexOf("allow_anonymous", StringComparison.Ordinal)..]
                .Replace("/etc/mosquitto/passwords", passwords, StringComparison.Ordinal)
                .Replace("/etc/mosquitto/acl", AccessList(folder), StringComparison.Ordinal);
            return text.Replace("allow_anonymous true\n", "", StringComparison.Ordinal) + guards;
        });
        return broker;
    }

    static string AccessList(string folder)
    {
        var path = Path.Combine(folder, "acl");
        File.Copy(Path.Combine(AppContext.BaseDirectory, "deploy", "mosquitto", "acl"), path);
        return path;
    }

    static MqttOptions As(MosquittoBroker broker, string user) =>
        Options(broker.Host, broker.Port) with { ClientId = $"test-{user}", User = user, Password = "of-" + user };
}
