using System.Text;
using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Loop;

namespace Farberth.Service.Tests;

public class IntakeTests
{
    static readonly DateTimeOffset Noon = new(2027, 7, 17, 12, 0, 0, TimeSpan.Zero);

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(1)).Token).Token;

    static RecordedMessage Message(string text) => new(Noon, new WireMessage("t", Encoding.UTF8.GetBytes(text)));

    static MqttLink Link(EmbeddedBroker broker, string client) =>
        MqttLink.Start(new MqttOptions("127.0.0.1", broker.Port, client), client == "publisher" ? [] : ["t"]);

    async Task Publish(MqttLink publisher, params string[] texts)
    {
        foreach (var text in texts)
            Assert.True((await publisher.PublishPatiently(Message(text).Message, cancel)).IsAccepted);
    }

    /// <summary>Takes until so many messages have come.</summary>
    async Task<List<string>> Taken(Intake intake, int count, DateTimeOffset now)
    {
        var taken = new List<string>();
        while (taken.Count < count)
        {
            await intake.WhenMore(cancel).WaitAsync(cancel);
            taken.AddRange((await intake.Next(now, default)).Select(Text));
        }
        return taken;
    }

    static string Text(RecordedMessage message) => Encoding.UTF8.GetString(message.Message.Payload.Span);

    [Fact]
    public async Task What_the_log_holds_after_the_position_comes_first_and_then_what_arrives()
    {
        var folder = Directory.CreateTempSubdirectory("farberth-");
        await using var broker = await EmbeddedBroker.Start(port: 0);
        await using var publisher = Link(broker, "publisher");
        await using var link = Link(broker, "service");
        await link.State.When(state => state.Phase == LinkPhase.Connected, cancel);
        using (var log = IntakeLog.Open(folder.FullName))
        {
            var position = log.Append([Message("known")]).End;
            log.Append([Message("1"), Message("2")]);
            await using var intake = new Intake(link, new Asking(), log, null, () => throw new InvalidOperationException("the disk is well"), position);
            Assert.Equal(["1", "2"], intake.Earlier().Select(Text));
            await Publish(publisher, "3", "4");
            Assert.Equal(["3", "4"], await Taken(intake, 2, Noon));
            Assert.Equal(log.End, intake.Position);
            Assert.Equal(5, log.Read(log.Start).Count());
        }
        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task While_the_disk_takes_nothing_nothing_is_acknowledged_and_all_is_given_out_and_later_it_is_all_in_the_log()
    {
        var folder = Directory.CreateTempSubdirectory("farberth-");
        var (here, away) = (Path.Combine(folder.FullName, "log"), Path.Combine(folder.FullName, "away"));
        await using var broker = await EmbeddedBroker.Start(port: 0);
        await using var publisher = Link(broker, "publisher");
        await using var link = Link(broker, "service");
        await link.State.When(state => state.Phase == LinkPhase.Connected, cancel);
        using (var log = IntakeLog.Open(here))
        {
            MqttLink? watch = null;
            await using var intake = new Intake(link, new Asking(), log, null, () => watch = Link(broker, "watch"), log.End);
            Directory.Move(here, away);
            await Publish(publisher, "1", "2");
            Assert.Equal(["1", "2"], await Taken(intake, 2, Noon));
            Assert.NotEqual("", intake.State.Problem);
            Assert.Equal((Noon, 2, 0L), (intake.State.Since, intake.State.Held, link.Counts.Acknowledged));

            await watch!.State.When(state => state.Phase == LinkPhase.Connected, cancel);
            await Publish(publisher, "3");
            // Once from each of the two links.
            await watch.Messages.WaitToReadAsync(cancel);
            Assert.Equal(["3", "3"], await Taken(intake, 2, Noon));

            Directory.Move(away, here);
            await intake.Next(Noon.AddSeconds(1), default);
            Assert.True(intake.State.IsDurable);
            Assert.Equal(0, intake.State.Held);
            Assert.Equal(3, log.Read(log.Start).Count());
            await Publish(publisher, "4");
            Assert.Equal(["4"], await Taken(intake, 1, Noon.AddSeconds(2)));
            Assert.Equal(LinkPhase.Closed, watch.State.Value.Phase);
        }
        folder.Delete(recursive: true);
    }
}
