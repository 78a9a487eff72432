using Farberth.Adapters.Mqtt;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Mqtt;

public class MqttLinkPublishesTests : BrokerTests
{
    [Theory]
    [InlineData(MqttVersion.V5)]
    [InlineData(MqttVersion.V311)]
    public async Task What_is_published_reaches_another_client(MqttVersion version)
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var subscriber = await broker.Subscribe("alarm/#", Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port) with { Version = version });
        Assert.True((await link.Publish(Message("alarm/1", "{\"state\":\"normal\"}"), Cancel)).IsAccepted);
        Assert.Equal(("alarm/1", "{\"state\":\"normal\"}"), await subscriber.Next(Cancel));
        Assert.Equal(1, link.Counts.Published);
    }

    [Fact]
    public async Task A_retained_message_is_there_for_who_comes_later_until_an_empty_one_clears_it()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port));
        Assert.True((await link.Publish(Message("alarm/1", "kept", retain: true), Cancel)).IsAccepted);
        await using (var later = await broker.Subscribe("alarm/1", Cancel))
            Assert.Equal(("alarm/1", "kept"), await later.Next(Cancel));

        Assert.True((await link.Publish(Message("alarm/1", "", retain: true), Cancel)).IsAccepted);
        await using var last = await broker.Subscribe("alarm/#", Cancel);
        Assert.True((await link.Publish(Message("alarm/2", "next"), Cancel)).IsAccepted);
        Assert.Equal(("alarm/2", "next"), await last.Next(Cancel));
    }

    [Fact]
    public async Task The_link_does_not_hear_itself()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port), "t/#");
        Assert.True((await link.Publish(Message("t/own", "own"), Cancel)).IsAccepted);
        await broker.Publish("t/other", "other", Cancel);
        Assert.Equal(("t/other", "other"), await Next(link));
    }

    [Fact]
    public async Task A_message_that_the_access_rules_forbid_is_refused_and_the_link_stays()
    {
        await using var broker = await MosquittoBroker.Start(Cancel, (text, folder) =>
        {
            File.WriteAllText(Path.Combine(folder, "acl"), "topic read #\ntopic write allowed\n");
            return $"{text}acl_file {folder}/acl\n";
        });
        await using var link = await Connect(Options(broker.Host, broker.Port));
        var refused = await link.Publish(Message("forbidden", "x"), Cancel);
        Assert.Equal(PublishStatus.Refused, refused.Status);
        Assert.Contains("NotAuthorized", refused.Problem, StringComparison.Ordinal);
        Assert.True((await link.Publish(Message("allowed", "x"), Cancel)).IsAccepted);
        Assert.Equal((1, 1), (link.Counts.Published, link.Counts.NotPublished));
    }

    [Fact]
    public async Task A_topic_with_a_wildcard_is_refused_without_asking_the_broker()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port));
        Assert.Equal(PublishStatus.Refused, (await link.Publish(Message("a/#", "x"), Cancel)).Status);
        Assert.True((await link.Publish(Message("a", "x"), Cancel)).IsAccepted);
    }

    [Fact]
    public async Task A_hundred_at_a_time_are_all_accepted()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port));
        var results = await Task.WhenAll(Enumerable.Range(0, 100).Select(i => link.Publish(Message($"t/{i}", "x"), Cancel).AsTask()));
        Assert.All(results, result => Assert.True(result.IsAccepted, result.Problem));
    }

    /// <summary>As behind a cable that was pulled: the connection is there, and nobody answers.</summary>
    [Fact]
    public async Task A_broker_that_answers_no_more_is_left_and_found_again()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        await using var proxy = new HoldingProxy(broker.Port);
        proxy.LetGo();
        await using var link = await Connect(Options(broker.Host, proxy.Port) with { AnswerWithin = TimeSpan.FromSeconds(1) });
        proxy.Hold();
        Assert.Equal(PublishStatus.Away, (await link.Publish(Message("t", "x"), Cancel)).Status);
        // Ours or the library's own patience ends first.
        Assert.NotEqual("", (await link.State.When(state => state.Phase == LinkPhase.Waiting, Cancel)).Reason);

        proxy.LetGo();
        await link.State.When(state => state.Phase == LinkPhase.Connected, Cancel);
        Assert.True((await link.Publish(Message("t", "y"), Cancel)).IsAccepted);
    }
}
