using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;
using Microsoft.AspNetCore.Http;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>What the forwarder does with each kind of answer. The server is a stand-in; the clock goes on by itself.</summary>
public sealed class ForwarderTests : IDisposable
{
    static readonly DateTimeOffset Start = DateTimeOffset.Parse("2027-07-17T14:00:00Z");

    readonly string folder = Directory.CreateTempSubdirectory("forwarder-").FullName;
    readonly IntakeLog log;
    readonly HurriedClock clock = new();
    readonly CancellationTokenSource stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);

    public ForwarderTests()
    {
        log = IntakeLog.Open(Path.Combine(folder, "log"), new IntakeLogOptions(SegmentBytes: 4096, MostBytes: 1 << 20));
        stop.CancelAfter(TimeSpan.FromMinutes(1));
    }

    public void Dispose()
    {
        stop.Cancel();
        stop.Dispose();
        log.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task A_batch_goes_out_compressed_with_the_token_to_the_bucket_in_nanoseconds()
    {
        await using var server = await StandInServer.Start((_, _) => Task.CompletedTask);
        Append(3);
        using var client = Client(server);
        var running = Forwarder(client).Run(stop.Token);
        var request = await server.Requests.ReadAsync(stop.Token);
        Assert.Equal(6, request.Lines.Count);
        Assert.Equal(("gzip", "Token secret"), (request.Encoding, request.Authorization));
        foreach (var part in new[] { "org=marina", "bucket=dock", "precision=ns" })
            Assert.Contains(part, request.Query, StringComparison.OrdinalIgnoreCase);
        await Stop(running);
    }

    [Fact]
    public async Task A_batch_is_closed_by_its_number_of_lines_and_nothing_is_left_out()
    {
        await using var server = await StandInServer.Start((_, _) => Task.CompletedTask);
        Append(10);
        using var client = Client(server);
        var running = Forwarder(client, options => options with { MostLines = 4 }).Run(stop.Token);
        var requests = await Requests(server, 5);
        Assert.All(requests, request => Assert.Equal(4, request.Lines.Count));
        Assert.Equal(20, requests.SelectMany(request => request.Lines).Distinct().Count());
        await Stop(running);
    }

    [Fact]
    public async Task What_the_server_cannot_take_now_is_sent_again_after_growing_waits()
    {
        var answers = new Queue<int>([500, 503, 502]);
        await using var server = await StandInServer.Start((_, response) => Answer(response, answers));
        Append(1);
        using var client = Client(server);
        var forwarder = Forwarder(client);
        var running = forwarder.Run(stop.Token);
        var requests = await Requests(server, 4);
        Assert.Single(requests.Select(request => string.Join('\n', request.Lines)).Distinct());
        Assert.Equal([1, 2, 4], clock.Waits.Take(3).Select(wait => wait.TotalSeconds));
        Assert.Equal(3, forwarder.State.Failures);
        await Stop(running);
    }

    [Fact]
    public async Task A_server_that_asks_for_patience_gets_it()
    {
        var answers = new Queue<int>([429]);
        await using var server = await StandInServer.Start((_, response) =>
        {
            response.Headers.RetryAfter = "37";
            return Answer(response, answers);
        });
        Append(1);
        using var client = Client(server);
        var running = Forwarder(client).Run(stop.Token);
        await Requests(server, 2);
        Assert.Equal(TimeSpan.FromSeconds(37), clock.Waits[0]);
        await Stop(running);
    }

    /// <summary>One in 100 lines is bad: at most 2 requests for each halving of 100, and one to make sure.</summary>
    [Fact]
    public async Task One_bad_line_is_found_and_set_aside_and_all_others_arrive()
    {
        await using var server = await StandInServer.Start((request, response) =>
            Answer(response, request.Lines.Any(IsBad) ? 400 : 204, """{"code":"invalid","message":"unable to parse"}"""));
        Append(50);
        using var client = Client(server);
        var forwarder = Forwarder(client);
        var running = forwarder.Run(stop.Token);
        var good = new HashSet<string>();
        var requests = 0;
        for (; good.Count < 99; requests++)
            if (await server.Requests.ReadAsync(stop.Token) is var request && !request.Lines.Any(IsBad))
                good.UnionWith(request.Lines);
        Assert.InRange(requests, 8, 16);
        await Settled(forwarder);
        Assert.Equal((1, 99), (forwarder.State.SetAside, good.Count));
        var written = await File.ReadAllLinesAsync(Path.Combine(folder, "influx.set-aside"), stop.Token);
        Assert.StartsWith("# 400 ", written[0]);
        Assert.True(IsBad(written[1]));
        await Stop(running);
    }

    [Theory]
    [InlineData(400)]
    [InlineData(401)]
    [InlineData(404)]
    public async Task Where_nothing_is_taken_no_line_is_at_fault_and_all_of_it_waits(int status)
    {
        var answers = new Queue<int>(Enumerable.Repeat(status, 200));
        await using var server = await StandInServer.Start((_, response) => Answer(response, answers));
        Append(20);
        using var client = Client(server);
        var forwarder = Forwarder(client);
        var running = forwarder.Run(stop.Token);
        var good = new HashSet<string>();
        // 200 requests in vain, then everything.
        for (var requests = 0; good.Count < 40; requests++)
            if (await server.Requests.ReadAsync(stop.Token) is var request && requests >= 200)
                good.UnionWith(request.Lines);
        await Settled(forwarder);
        Assert.Equal(0, forwarder.State.SetAside);
        await Stop(running);
    }

    [Fact]
    public async Task The_cursor_stays_until_the_server_has_said_yes_and_had_time_to_keep_it()
    {
        var allowed = new TaskCompletionSource();
        await using var server = await StandInServer.Start((_, _) => allowed.Task);
        Append(1);
        using var client = Client(server);
        var forwarder = Forwarder(client);
        var running = forwarder.Run(stop.Token);
        Assert.Equal(LogPosition.Beginning, InfluxForwarder.KeptCursor(folder, "influx"));
        allowed.SetResult();
        await Settled(forwarder);
        Assert.Equal(log.End, InfluxForwarder.KeptCursor(folder, "influx"));
        Assert.True(clock.GetUtcNow() - HurriedClock.Began >= TimeSpan.FromSeconds(30));
        await Stop(running);
    }

    /// <summary>It may have died and lost what it had confirmed: from the cursor on, everything comes once more.</summary>
    [Fact]
    public async Task After_the_server_was_away_sending_begins_again_at_the_cursor()
    {
        var requests = 0;
        await using var server = await StandInServer.Start((_, response) =>
        {
            if (Interlocked.Increment(ref requests) == 3)
                response.StatusCode = StandInServer.BreaksOff;
            return Task.CompletedTask;
        });
        Append(6);
        using var client = Client(server);
        var running = Forwarder(client, options => options with { MostLines = 4 }).Run(stop.Token);
        var before = await Texts(server, 3);
        Assert.Equal(3, before.Distinct().Count());
        var after = await Texts(server, 1);
        // HTTP may try once more by itself on a connection that broke.
        if (after[0] == before[2])
            after = await Texts(server, 1);
        Assert.Equal(before, [.. after, .. await Texts(server, 2)]);
        await Stop(running);
    }

    async Task<List<string>> Texts(StandInServer server, int count) =>
        [.. (await Requests(server, count)).Select(request => string.Join('\n', request.Lines))];

    [Fact]
    public async Task A_forwarder_that_is_started_anew_goes_on_at_its_cursor()
    {
        await using var server = await StandInServer.Start((_, _) => Task.CompletedTask);
        using var client = Client(server);
        Append(3);
        using (var first = CancellationTokenSource.CreateLinkedTokenSource(stop.Token))
        {
            var forwarder = Forwarder(client);
            var running = forwarder.Run(first.Token);
            await Settled(forwarder);
            await first.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => running);
        }
        Assert.Equal(6, (await server.Requests.ReadAsync(stop.Token)).Lines.Count);
        Append(1);
        var again = Forwarder(client).Run(stop.Token);
        Assert.Equal(2, (await server.Requests.ReadAsync(stop.Token)).Lines.Count);
        await Stop(again);
    }

    /// <summary>Whole files of the log went, because it had reached its bound, while the server was away.</summary>
    [Fact]
    public async Task What_the_log_had_to_let_go_is_counted_and_the_rest_arrives()
    {
        using var small = IntakeLog.Open(Path.Combine(folder, "small"), new IntakeLogOptions(SegmentBytes: 1024, MostBytes: 4096));
        for (var i = 0; i < 100; i++)
            Assert.True(small.Append([Reading(i)]).IsDurable);
        Assert.True(small.Lost > 0);
        await using var server = await StandInServer.Start((_, _) => Task.CompletedTask);
        using var client = Client(server);
        var forwarder = Forwarder(client, from: small);
        var running = forwarder.Run(stop.Token);
        var request = await server.Requests.ReadAsync(stop.Token);
        Assert.Equal((100 - small.Lost) * 2, request.Lines.Count);
        Assert.Equal(small.Start.Offset, forwarder.State.MissedBytes);
        await Stop(running);
    }

    static bool IsBad(string line) => line.Contains("volts=117.17 ", StringComparison.Ordinal);

    static Task Answer(HttpResponse response, Queue<int> answers) => Answer(response, answers.TryDequeue(out var status) ? status : 204);

    static Task Answer(HttpResponse response, int status, string body = "")
    {
        response.StatusCode = status;
        return body.Length == 0 || status == 204 ? Task.CompletedTask : response.WriteAsync(body);
    }

    static RecordedMessage Reading(int i) => StoredSite.Reading(Start.AddSeconds(i), "G1", 117 + (i % 100) / 100.0, i);

    void Append(int readings) => Assert.True(log.Append([.. Enumerable.Range(0, readings).Select(Reading)]).IsDurable);

    InfluxServer Client(StandInServer server) => new(Options(server.Url), TimeProvider.System);

    static InfluxOptions Options(Uri url) => new(url, "marina", "dock") { Token = "secret", Backoff = new(TimeSpan.FromSeconds(1), TimeSpan.FromMinutes(1)) };

    InfluxForwarder Forwarder(InfluxServer client, Func<InfluxOptions, InfluxOptions>? change = null, IntakeLog? from = null)
    {
        var options = Options(new Uri("http://127.0.0.1"));
        return new(from ?? log, new ReadingPoints(StoredSite.Definition()).Of, client, change?.Invoke(options) ?? options, folder, "influx", clock, () => 1);
    }

    async Task<List<Written>> Requests(StandInServer server, int count)
    {
        var requests = new List<Written>();
        while (requests.Count < count)
            requests.Add(await server.Requests.ReadAsync(stop.Token));
        return requests;
    }

    Task Settled(InfluxForwarder forwarder) => forwarder.Progress.When(progress => progress.Settled >= log.End, stop.Token);

    async Task Stop(Task running)
    {
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => running);
    }
}
