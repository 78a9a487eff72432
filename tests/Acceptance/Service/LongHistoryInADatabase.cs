using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Service;

/// <summary>From a pedestal's message through the real process into a real database, the database away at first.</summary>
public class LongHistoryInADatabase
{
    static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml");

    readonly CancellationToken cancel = CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(2)).Token).Token;

    [Fact]
    public async Task Readings_states_and_alarms_come_to_the_database_once_it_is_there()
    {
        await using var broker = await MosquittoBroker.Start(cancel);
        await using var database = await VictoriaMetrics.Start(cancel);
        await using var service = await StartedService.Connected(SiteFile, broker, "--influx", database.Url.AbsoluteUri);
        await database.Kill(cancel);
        var time = DateTimeOffset.UtcNow;
        await Say(broker, "G1", time, 119.1, 31.4);
        await Say(broker, "G2", time, 117.3, 2);
        await service.WhenView(view => view["alarms"]!.AsArray().Count > 0);
        await database.Restart(cancel);

        string[] wanted =
        [
            "alarm_standing{dock=G,kind=overload,outlet=A,pedestal=G1,site=gullhaven}",
            "cable_load{cable=G2,dock=G,site=gullhaven}",
            "dock_load{dock=G,site=gullhaven}",
            "estimate_volts_sd{dock=G,leg=L1,pedestal=G2,site=gullhaven}",
            "outlet_amps{dock=G,leg=L1,outlet=A,pedestal=G1,site=gullhaven}",
            "pedestal_volts{dock=G,leg=L1,pedestal=G2,site=gullhaven}",
        ];
        using var again = new PeriodicTimer(TimeSpan.FromMilliseconds(500));
        var found = await database.Export(time.AddMinutes(-1), time.AddMinutes(3), cancel);
        while (!wanted.All(series => found.Keys.Any(key => key.Series == series)))
        {
            await again.WaitForNextTickAsync(cancel);
            found = await database.Export(time.AddMinutes(-1), time.AddMinutes(3), cancel);
        }
        Assert.Equal(31.4, found[(wanted[4], time.ToUnixTimeMilliseconds())]);
        Assert.Equal(117.3, found[(wanted[5], time.ToUnixTimeMilliseconds())]);
        Assert.All(found.Where(one => one.Key.Series == wanted[0]), one => Assert.Equal(1, one.Value));
        Assert.All(found.Where(one => one.Key.Series == wanted[2]), one => Assert.InRange(one.Value, 0.01, 0.2)); // 33 A of 208 A on two legs
    }

    Task Say(MosquittoBroker broker, string pedestal, DateTimeOffset time, double volts, double amps) => broker.Publish(
        $"farberth/v1/gullhaven/pedestal/{pedestal}/reading",
        new JsonObject
        {
            ["time"] = time.ToString("O"),
            ["volts"] = new JsonObject { ["L1"] = volts, ["L2"] = 120.4 },
            ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
        }.ToJsonString(), cancel);
}
