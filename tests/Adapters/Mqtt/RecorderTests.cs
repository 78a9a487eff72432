using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Recordings;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Mqtt;

public class RecorderTests : BrokerTests
{
    sealed class Written : IProgress<long>
    {
        public Observed<long> Count { get; } = new(0);

        public void Report(long value) => Count.Set(value);
    }

    [Fact]
    public async Task What_the_broker_carries_is_in_the_recording_and_nothing_else()
    {
        await using var broker = await MosquittoBroker.Start(Cancel);
        var path = Path.Combine(broker.Folder, "night.jsonl.gz");
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        await using var link = await Connect(Options(broker.Host, broker.Port), Recorder.Filter("s"));
        var written = new Written();
        RecordingCounts counts;
        using (var writer = RecordingFile.Create(path))
        {
            var recording = Recorder.Run(link, writer, stop.Token, written);
            await broker.Publish("farberth/v1/other/weather", "{}", Cancel);
            await broker.Publish("farberth/v1/s/weather", """{ "celsius": 34.10 }""", Cancel);
            await broker.Publish("farberth/v1/s/pedestal/C1/reading", "not JSON", Cancel);
            await written.Count.When(count => count == 2, Cancel);
            await stop.CancelAsync();
            counts = await recording;
        }
        Assert.Equal(new RecordingCounts(2, 0, 0), counts);
        var entries = RecordingFile.Read(path).ToList();
        Assert.All(entries, entry => Assert.Equal("", entry.Problem));
        Assert.Equal(
            [("farberth/v1/s/weather", """{"celsius":34.10}"""), ("farberth/v1/s/pedestal/C1/reading", "not JSON")],
            entries.Select(entry => (entry.Message!.Message.Topic, Text(entry.Message.Message.Payload))));
    }

    [Fact]
    public void Without_a_site_all_sites_are_recorded() => Assert.Equal("farberth/v1/#", Recorder.Filter(null));
}
