using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>
/// The forwarder against a real database, on the real clock. The database is killed with signal 9 under load and so loses
/// what it has confirmed in its last seconds: version 1.79 was found to lose what was 8 s old and to keep what was 11 s old.
/// What it gives back in the end is compared point by point with what the pedestals said.
/// </summary>
public sealed class ForwarderAgainstADatabase(ITestOutputHelper output) : IDisposable
{
    const int Rounds = 50;

    readonly string folder = Directory.CreateTempSubdirectory("forwarder-").FullName;
    readonly CancellationTokenSource giveUp = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);

    public void Dispose()
    {
        giveUp.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public Task A_database_that_dies_under_load_loses_nothing_and_doubles_nothing() => Survive(1);

    [Fact(Explicit = true)]
    public Task A_database_that_dies_fifty_times_loses_nothing_and_doubles_nothing() => Survive(Rounds);

    async Task Survive(int rounds)
    {
        // A round takes as long as it takes the confirmed to settle, 15 s, and what a busy machine adds to it.
        giveUp.CancelAfter(TimeSpan.FromMinutes(1 + rounds));
        await using var database = await VictoriaMetrics.Start(giveUp.Token);
        using var log = IntakeLog.Open(Path.Combine(folder, "log"), new IntakeLogOptions(SegmentBytes: 64 * 1024));
        using var client = new InfluxServer(Options(database.Url), TimeProvider.System);
        var load = new Load(new Random(1), DateTimeOffset.UtcNow.Date.AddDays(-3), log);
        var running = new Running(Forwarder(log, client), giveUp.Token);
        for (var round = 0; round < rounds; round++)
        {
            await load.UntilSettled(running, giveUp.Token);
            await database.Kill(giveUp.Token);
            load.Batches(20);
            if (round % 2 == 1)
            {
                await running.DisposeAsync();
                running = new Running(Forwarder(log, client), giveUp.Token);
            }
            await database.Restart(giveUp.Token);
            await running.When(progress => progress.Sent >= log.End, giveUp.Token);
        }
        output.WriteLine($"{load.Said.Count} points, {running.State}");
        await running.DisposeAsync();
        Compare(load.Said, await database.Export(load.From, DateTimeOffset.UtcNow, giveUp.Token));
    }

    static void Compare(Dictionary<(string Series, long Milliseconds), double> said, Dictionary<(string Series, long Milliseconds), double> found)
    {
        Assert.Empty(said.Keys.Except(found.Keys).Take(5));
        Assert.Empty(found.Keys.Except(said.Keys).Take(5));
        Assert.Empty(said.Where(one => found[one.Key] != one.Value).Take(5));
    }

    static InfluxOptions Options(Uri url) => new(url, "marina", "dock")
    {
        MostLines = 50,
        BatchWithin = TimeSpan.FromMilliseconds(20),
        SettledAfter = TimeSpan.FromSeconds(15),
        Backoff = new Backoff(TimeSpan.FromMilliseconds(20), TimeSpan.FromMilliseconds(200)),
    };

    InfluxForwarder Forwarder(IntakeLog log, InfluxServer client) => new(
        log, new ReadingPoints(StoredSite.Definition()).Of, client, Options(new Uri("http://127.0.0.1")), folder, "influx", TimeProvider.System, () => 1);

    /// <summary>A forwarder that runs until it is disposed of.</summary>
    sealed class Running : IAsyncDisposable
    {
        readonly CancellationTokenSource stop;
        readonly InfluxForwarder forwarder;
        readonly Task task;

        public Running(InfluxForwarder forwarder, CancellationToken giveUp)
        {
            stop = CancellationTokenSource.CreateLinkedTokenSource(giveUp);
            this.forwarder = forwarder;
            task = Task.Run(() => forwarder.Run(stop.Token), CancellationToken.None);
        }

        public ForwarderState State => forwarder.State;

        public Task When(Func<ForwarderProgress, bool> condition, CancellationToken giveUp) => forwarder.Progress.When(condition, giveUp);

        public async ValueTask DisposeAsync()
        {
            await stop.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => task);
            stop.Dispose();
        }
    }

    /// <summary>Readings of two pedestals, each with what the database must hold of it by names written out here once more.</summary>
    sealed class Load(Random random, DateTimeOffset from, IntakeLog log)
    {
        int readings;

        public DateTimeOffset From => from;

        public Dictionary<(string Series, long Milliseconds), double> Said { get; } = [];

        /// <summary>Batch after batch, each when the one before has been confirmed, until some of these have settled: then others have only been confirmed.</summary>
        public async Task UntilSettled(Running running, CancellationToken giveUp)
        {
            for (var (began, more) = (log.End, random.Next(100)); more > 0;)
            {
                Batches(1);
                await running.When(progress => progress.Sent >= log.End, giveUp);
                if (running.State.Settled > began)
                    more--;
            }
        }

        public void Batches(int count)
        {
            for (var i = 0; i < count; i++)
                Assert.True(log.Append([.. Enumerable.Range(0, 7).Select(_ => Next())]).IsDurable);
        }

        RecordedMessage Next()
        {
            var (pedestal, time) = (random.Next(2) == 0 ? "G1" : "G2", from.AddMilliseconds(250 * readings++));
            var (volts, amps) = (random.Next(10_400, 12_700) / 100.0, random.Next(0, 3_000) / 100.0);
            Said[($"pedestal_volts{{dock=G,leg=L1,pedestal={pedestal},site=gullhaven}}", time.ToUnixTimeMilliseconds())] = volts;
            Said[($"outlet_amps{{dock=G,leg=L1,outlet=A,pedestal={pedestal},site=gullhaven}}", time.ToUnixTimeMilliseconds())] = amps;
            return StoredSite.Reading(time, pedestal, volts, amps);
        }
    }
}
