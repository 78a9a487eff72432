using System.Text;
using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Loop;

namespace Farberth.Service.Tests.Loop;

public class AskingTests
{
    static readonly DateTimeOffset Noon = new(2027, 7, 17, 12, 0, 0, TimeSpan.Zero);
    static readonly SiteDefinition Site = Given.FourPosts();

    readonly Asking asking = new();
    readonly SiteMonitor monitor = new(Site);

    /// <summary>Every pedestal has been heard, so that the dock is judged; an outlet of 16 A carries 20.</summary>
    public AskingTests()
    {
        foreach (var pedestal in Site.Docks["Q"].Pedestals.Keys)
            monitor.Take(new(Noon, new($"farberth/v1/fourposts/pedestal/{pedestal}/reading",
                """{"time":"2027-07-17T11:59:59Z","volts":{"L1":229,"L2":231,"L3":231},"outlets":{"A":{"amps":{"L1":20}}}}"""u8.ToArray())));
    }

    static RecordedMessage Message(string topic, string body = "") =>
        new(Noon, new("farberth/v1/fourposts/" + topic, Encoding.UTF8.GetBytes($$"""{"time":"2027-07-17T12:00:00Z","by":"Ines"{{body}}}""")));

    static RecordedMessage Shelve(int hours) => Message("alarm/Q.Q1.A.overload/shelve", $$""","until":"{{Noon.AddHours(hours):yyyy-MM-dd'T'HH:mm:ss'Z'}}","reason":"known" """);

    /// <summary>What the loop does: keep, hear, tick.</summary>
    void Loop(string? problem = null)
    {
        foreach (var message in asking.Take(Noon.AddSeconds(0.2), _ => problem))
            asking.Heard(message, monitor.Take(message));
        foreach (var step in monitor.Advance(Noon.AddSeconds(1)))
            asking.Judged(step);
    }

    [Fact]
    public async Task Whoever_asked_learns_that_it_was_done()
    {
        var answer = asking.Ask(Shelve(hours: 1));
        Assert.True(asking.WhenSome.IsCompleted);
        Assert.False(answer.IsCompleted);
        Loop();
        Assert.Equal(Answer.Done, await answer);
        Assert.False(asking.WhenSome.IsCompleted);
    }

    [Fact]
    public async Task Whoever_asked_in_vain_learns_why()
    {
        var tooLong = asking.Ask(Shelve(hours: 3));
        var beyondAll = asking.Ask(Shelve(hours: 13));
        var unknown = asking.Ask(Message("slip/B9/boat", ",\"present\":true"));
        var half = asking.Ask(Message("alarm/Q.Q1.A.overload/shelve"));
        Loop();
        Assert.Equal((AnswerKind.NotAllowed, "of high priority it can be shelved for 1 h at most"), ((await tooLong).Kind, $"{(await tooLong).Why}"));
        Assert.Equal(AnswerKind.Wrong, (await beyondAll).Kind);
        Assert.Equal(AnswerKind.Unknown, (await unknown).Kind);
        Assert.Equal(AnswerKind.Wrong, (await half).Kind);
    }

    [Fact]
    public async Task What_cannot_be_kept_is_not_done()
    {
        var answer = asking.Ask(Shelve(hours: 1));
        Loop(problem: "no space left");
        Assert.Equal(AnswerKind.NotNow, (await answer).Kind);
        Assert.Contains("no space left", $"{(await answer).Why}", StringComparison.Ordinal);
        Assert.DoesNotContain(monitor.Advance(Noon.AddSeconds(2)).SelectMany(step => step.Standing), alarm => alarm.State == AlarmState.Shelved);
    }

    [Fact]
    public async Task More_than_a_loop_takes_at_a_time_is_turned_away()
    {
        var all = Enumerable.Range(0, Asking.MostWaiting + 1).Select(_ => asking.Ask(Shelve(hours: 1))).ToList();
        Assert.Equal(AnswerKind.NotNow, (await all[^1]).Kind);
        Loop();
        Assert.Equal(Answer.Done, await all[0]);
    }

    [Fact]
    public void What_was_withdrawn_is_not_done()
    {
        var answer = asking.Ask(Shelve(hours: 1));
        Assert.True(asking.Withdraw(answer));
        Assert.Empty(asking.Take(Noon, _ => null));
    }

    [Fact]
    public async Task It_is_in_the_log_before_the_monitor_hears_it_and_the_broker_need_not_be_there()
    {
        var folder = Directory.CreateTempSubdirectory("farberth-");
        await using var broker = await EmbeddedBroker.Start(port: 0);
        var nobody = new MqttOptions("127.0.0.1", broker.Port, "service");
        await broker.DisposeAsync();
        await using var link = MqttLink.Start(nobody, ["t"]);
        using (var log = IntakeLog.Open(folder.FullName))
        {
            await using var intake = new Intake(link, asking, log, null, () => throw new InvalidOperationException("the disk is well"), log.End);
            var more = intake.WhenMore(TestContext.Current.CancellationToken);
            var answer = asking.Ask(Shelve(hours: 1));
            await more.WaitAsync(TestContext.Current.CancellationToken);
            var given = Assert.Single(await intake.Next(Noon.AddSeconds(0.5), default));
            var kept = Assert.Single(log.Read(log.Start)).Message;
            Assert.Equal((given.At, given.Message.Topic), (kept.At, kept.Message.Topic));
            Assert.Equal(Noon.AddSeconds(0.5), kept.At);
            Assert.Equal(log.End, intake.Position);
            Assert.False(answer.IsCompleted);
        }
        folder.Delete(recursive: true);
    }
}
