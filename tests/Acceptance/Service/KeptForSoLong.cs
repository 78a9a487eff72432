using Farberth.Acceptance.Tests.Faults;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>What the command line says of how long is kept.</summary>
public class KeptForSoLong
{
    readonly CancellationToken cancel = TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_reading_is_kept_for_the_days_that_were_asked_for_and_its_minute_for_longer()
    {
        using var folder = new TemporaryFolder();
        await using var broker = await MosquittoBroker.Start(cancel);
        var now = DateTimeOffset.UtcNow;
        await Take(Enumerable.Range(0, 6).Select(day => PacedReadings.Reading(day, now.AddDays(day - 5.5), ("P0", 3))));
        // The history looks for what is too old once an hour, and when the first reading comes.
        await Take([PacedReadings.Reading(6, now, ("P0", 3))]);

        using var history = History.OpenToRead(Path.Combine(folder["data"], "history.sqlite"));
        Assert.Equal([4L, 5L, 6L], history.Readings("G2", now.AddDays(-9), now.AddDays(1), 100).Rows.Select(reading => reading.Seq!.Value));
        Assert.Equal(5, history.Minutes("G2", "P0", now.AddDays(-9), now.AddDays(1), 100).Rows.Count);

        async Task Take(IEnumerable<string> readings)
        {
            await using var service = await StartedService.Connected(Twins.SiteFile, broker, "--data", folder["data"], "--keep-readings", "2", "--keep-minutes", "4");
            await broker.PublishLines(PacedReadings.Topic, readings, cancel);
            await service.WhenView(view => (long)view["broker"]!["received"]! >= readings.Count() && (long)view["store"]!["unread"]! == 0);
        }
    }
}
