using System.Net;
using System.Net.Sockets;
using Farberth.Adapters.Stores.InfluxDb;
using Microsoft.Extensions.Time.Testing;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>What one request comes to. Codes as InfluxDB 2 documents its write path: docs.influxdata.com/influxdb/v2/api, POST /api/v2/write.</summary>
public class InfluxServerTests
{
    static readonly string[] OneLine = ["pedestal,site=s volts=120 1815836645250000000"];

    readonly CancellationToken cancel = TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(204, WriteStatus.Accepted)]
    [InlineData(400, WriteStatus.BadLines)]
    [InlineData(401, WriteStatus.Refused)]
    [InlineData(403, WriteStatus.Refused)]
    [InlineData(404, WriteStatus.Refused)]
    [InlineData(413, WriteStatus.BadLines)]
    [InlineData(422, WriteStatus.BadLines)]
    [InlineData(429, WriteStatus.Busy)]
    [InlineData(500, WriteStatus.Busy)]
    [InlineData(503, WriteStatus.Busy)]
    public async Task Each_answer_says_what_is_to_be_done_next(int code, WriteStatus expected)
    {
        await using var stand = await StandInServer.Start((_, response) =>
        {
            response.StatusCode = code;
            return Task.CompletedTask;
        });
        using var server = Server(stand.Url, TimeProvider.System);
        var outcome = await server.Write(OneLine, cancel);
        Assert.Equal(expected, outcome.Status);
        Assert.Equal(code != 204, outcome.Problem.Contains(code.ToString(), StringComparison.Ordinal));
        Assert.DoesNotContain("secret", outcome.Problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(30, WriteStatus.Accepted)]
    [InlineData(61, WriteStatus.Away)]
    public async Task A_slow_server_is_waited_for_but_not_for_ever(int seconds, WriteStatus expected)
    {
        var clock = new FakeTimeProvider();
        var (asked, may) = (new TaskCompletionSource(), new TaskCompletionSource());
        await using var stand = await StandInServer.Start((_, _) =>
        {
            asked.SetResult();
            return may.Task;
        });
        using var server = Server(stand.Url, clock);
        var writing = server.Write(OneLine, cancel);
        await asked.Task.WaitAsync(cancel);
        clock.Advance(TimeSpan.FromSeconds(seconds));
        if (expected == WriteStatus.Accepted)
            may.SetResult();
        Assert.Equal(expected, (await writing.WaitAsync(cancel)).Status);
        may.TrySetResult();
    }

    [Fact]
    public async Task A_server_that_is_not_there_is_away()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var free = ((IPEndPoint)listener.LocalEndpoint).Port;
        listener.Stop();
        using var server = Server(new Uri($"http://127.0.0.1:{free}"), TimeProvider.System);
        var outcome = await server.Write(OneLine, cancel);
        Assert.Equal(WriteStatus.Away, outcome.Status);
        Assert.NotEqual("", outcome.Problem);
    }

    [Fact]
    public async Task Who_stops_is_not_answered()
    {
        await using var stand = await StandInServer.Start((_, _) => Task.CompletedTask);
        using var server = Server(stand.Url, TimeProvider.System);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => server.Write(OneLine, new CancellationToken(canceled: true)));
    }

    static InfluxServer Server(Uri url, TimeProvider time) => new(new InfluxOptions(url, "marina", "dock") { Token = "secret" }, time);
}
