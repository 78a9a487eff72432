using Farberth.Adapters.Mqtt;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Mqtt;

public class MqttLinkRefusedTests : BrokerTests
{
    [Theory]
    [InlineData(MqttVersion.V5)]
    [InlineData(MqttVersion.V311)]
    public async Task A_wrong_password_is_said_and_the_right_one_connects(MqttVersion version)
    {
        await using var broker = await MosquittoBroker.Start(Cancel, (text, folder) =>
            text.Replace("allow_anonymous true", $"allow_anonymous false\npassword_file {PasswordFile(folder)}", StringComparison.Ordinal));
        var options = Options(broker.Host, broker.Port) with { Version = version, User = "service", Password = "wrong" };

        await using (var link = MqttLink.Start(options, []))
        {
            var refused = await link.State.When(state => state.Phase == LinkPhase.Refused, Cancel);
            Assert.Contains("until it is put right", refused.Reason, StringComparison.Ordinal);
            Assert.NotNull(refused.NextAttempt);
            // It keeps trying all the same.
            await link.State.When(state => state.Phase == LinkPhase.Connecting, Cancel);
            await link.State.When(state => state.Phase == LinkPhase.Refused, Cancel);
            Assert.Equal(0, link.Counts.Connections);
        }
        await using var right = await Connect(options with { Password = "right" });
    }

    [Fact]
    public void Options_do_not_show_the_password() =>
        Assert.DoesNotContain("secret", (Options("localhost", 1883) with { User = "u", Password = "secret" }).ToString(), StringComparison.Ordinal);

    [Theory]
    [InlineData(MqttVersion.V5)]
    [InlineData(MqttVersion.V311)]
    public async Task A_subscription_that_the_broker_refuses_is_a_stated_failure(MqttVersion version)
    {
        // An access list does not refuse subscriptions in Mosquitto 2.0, only what would come of them; its plugin does.
        var plugin = Directory.EnumerateFiles("/usr/lib", "mosquitto_dynamic_security.so", new EnumerationOptions { RecurseSubdirectories = true }).FirstOrDefault();
        if (plugin is null)
            Assert.Skip("Mosquitto's dynamic security plugin is not installed");
        await using var broker = await MosquittoBroker.Start(Cancel, (text, folder) =>
        {
            File.WriteAllText(Path.Combine(folder, "security.json"), """
                {"defaultACLAccess":{"publishClientSend":true,"publishClientReceive":true,"subscribe":false,"unsubscribe":true},
                 "clients":[],"groups":[{"groupname":"anyone","roles":[{"rolename":"reader"}]}],"anonymousGroup":"anyone",
                 "roles":[{"rolename":"reader","acls":[{"acltype":"subscribePattern","topic":"open/#","priority":0,"allow":true}]}]}
                """);
            return $"{text}plugin {plugin}\nplugin_opt_config_file {folder}/security.json\n";
        });
        var options = Options(broker.Host, broker.Port) with { Version = version };
        await using (var link = MqttLink.Start(options, ["open/#", "shut/#"]))
        {
            var refused = await link.State.When(state => state.Phase == LinkPhase.Refused, Cancel);
            Assert.Contains("shut/#", refused.Reason, StringComparison.Ordinal);
            Assert.DoesNotContain("open/#", refused.Reason, StringComparison.Ordinal);
        }
        await using var granted = await Connect(options, "open/#");
    }

    [Fact]
    public async Task A_broker_that_is_not_there_is_waited_for()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await broker.Stop(Cancel);
        await using var link = MqttLink.Start(Options(broker.Host, broker.Port), ["t"]);
        var away = await link.State.When(state => state.Phase == LinkPhase.Waiting, Cancel);
        Assert.Contains($"{broker.Host}:{broker.Port}", away.Reason, StringComparison.Ordinal);
        await broker.Restart(Cancel);
        await link.State.When(state => state.Phase == LinkPhase.Connected, Cancel);
    }

    static string PasswordFile(string folder)
    {
        var path = Path.Combine(folder, "passwords");
        using var process = Command.Start("mosquitto_passwd", "-b", "-c", path, "service", "right");
        process.WaitForExit();
        return path;
    }
}
