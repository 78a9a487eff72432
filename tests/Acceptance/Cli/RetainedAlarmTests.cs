using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Cli;

public class RetainedAlarmTests
{
    const string Site = "data/hot-afternoon/four-posts.site.yaml";

    [Fact]
    public async Task An_alarm_of_an_earlier_run_that_does_not_stand_is_taken_away()
    {
        await using var broker = await MosquittoBroker.Start(FarberthCommand.Cancel);
        const string topic = "farberth/v1/fourposts/alarm/Q.Q1.A.overload";
        await broker.Publish(topic, """{"id":"Q.Q1.A.overload","state":"unacknowledged"}""", FarberthCommand.Cancel, retain: true);
        await using var service = await StartedService.Start("run", Site, "--mqtt", $"127.0.0.1:{broker.Port}", "--http", "http://127.0.0.1:0");
        await service.WhenView(view => (string)view["broker"]!["state"]! == "connected");
        await using var watching = await broker.Subscribe("farberth/v1/fourposts/alarm/#", FarberthCommand.Cancel);
        Assert.Equal(topic, (await watching.Next(FarberthCommand.Cancel)).Topic);

        foreach (var pedestal in new[] { "Q1", "Q2", "Q3", "Q4" })
            await broker.Publish($"farberth/v1/fourposts/pedestal/{pedestal}/reading",
                $$$"""{"time":"{{{DateTimeOffset.UtcNow:O}}}","volts":{"L1":231,"L2":231,"L3":231}}""", FarberthCommand.Cancel);

        Assert.Equal((topic, ""), await watching.Next(FarberthCommand.Cancel));
    }
}
