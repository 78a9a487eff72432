using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text.Json;

namespace Farberth.Tests.Fixtures;

/// <summary>
/// Debian's victoria-metrics on a free loopback port: a time series database that takes InfluxDB's line protocol at
/// InfluxDB's path and gives everything back at another. With deduplication of one millisecond, its resolution, a point
/// that is written twice is there once, as in InfluxDB. Tests that need it are skipped, with the reason, where it is not installed.
/// </summary>
public sealed class VictoriaMetrics : IAsyncDisposable
{
    const string Program = "/usr/bin/victoria-metrics";

    readonly string folder = Directory.CreateTempSubdirectory("victoria-metrics-").FullName;
    readonly CommandLog log = new();
    readonly HttpClient http;
    readonly int port;
    Process? process;

    VictoriaMetrics(int port)
    {
        this.port = port;
        http = new HttpClient { BaseAddress = Url };
    }

    public Uri Url => new($"http://127.0.0.1:{port}");

    public static async Task<VictoriaMetrics> Start(CancellationToken cancel)
    {
        if (!File.Exists(Program))
            Assert.Skip($"{Program} is not installed (Debian package: victoria-metrics)");
        var database = new VictoriaMetrics(FreePort());
        try
        {
            await database.Restart(cancel);
            return database;
        }
        catch
        {
            await database.DisposeAsync();
            throw;
        }
    }

    /// <summary>Starts it on the same port and folder; it must not be running.</summary>
    public async Task Restart(CancellationToken cancel)
    {
        var from = log.Count;
        process = Command.Start(Program, $"-storageDataPath={folder}", $"-httpListenAddr=127.0.0.1:{port}", "-dedup.minScrapeInterval=1ms");
        log.Follow(process.StandardError);
        await log.When(line => line.Contains("pprof handlers are exposed", StringComparison.Ordinal), from, cancel);
    }

    /// <summary>Ends it with kill -9.</summary>
    public async Task Kill(CancellationToken cancel)
    {
        process!.Kill();
        await process.WaitForExitAsync(cancel);
    }

    /// <summary>Every sample between two times, by metric name and labels as one text: name{a=b,c=d}.</summary>
    public async Task<Dictionary<(string Series, long Milliseconds), double>> Export(DateTimeOffset from, DateTimeOffset to, CancellationToken cancel)
    {
        await http.GetStringAsync("/internal/force_flush", cancel);
        var text = await http.GetStringAsync(
            $"/api/v1/export?match[]={{__name__!=\"\"}}&start={from.ToUnixTimeSeconds()}&end={to.ToUnixTimeSeconds()}", cancel);
        return text.Split('\n', StringSplitOptions.RemoveEmptyEntries).SelectMany(Samples).ToDictionary();
    }

    static IEnumerable<((string, long), double)> Samples(string line)
    {
        using var document = JsonDocument.Parse(line);
        var (metric, values, times) = (
            document.RootElement.GetProperty("metric"), document.RootElement.GetProperty("values"), document.RootElement.GetProperty("timestamps"));
        var labels = metric.EnumerateObject().Where(label => label.Name != "__name__").Select(label => $"{label.Name}={label.Value}").Order(StringComparer.Ordinal);
        var series = $"{metric.GetProperty("__name__")}{{{string.Join(',', labels)}}}";
        return [.. times.EnumerateArray().Zip(values.EnumerateArray(), (time, value) => ((series, time.GetInt64()), value.GetDouble()))];
    }

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
        {
            process.Kill();
            await process.WaitForExitAsync();
        }
        http.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
