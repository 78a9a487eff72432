using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Farberth.Tests.Fixtures;

/// <summary>
/// Debian's Mosquitto on a free loopback port, from the configuration that is shipped, with a folder of its own for what
/// it keeps. Tests that need it are skipped, with the reason, where it is not installed.
/// </summary>
public sealed class MosquittoBroker : IAsyncDisposable
{
    const string Program = "/usr/sbin/mosquitto";
    const string ShippedListener = "listener 1883 127.0.0.1";
    const string ShippedStore = "persistence_location /var/lib/mosquitto/";

    readonly string configuration;
    readonly string[] within;
    readonly CommandLog log = new();
    Process? process;
    int subscriptions;

    MosquittoBroker(string folder, int port, string configuration, string[] within) =>
        (Folder, Port, this.configuration, this.within) = (folder, port, configuration, within);

    public string Host => "127.0.0.1";
    public int Port { get; }

    /// <summary>For whatever a test adds to the configuration: password files, access lists, certificates.</summary>
    public string Folder { get; }

    /// <param name="change">The shipped configuration, port and paths already replaced, and the broker's folder; gives back the one to use.</param>
    /// <param name="within">Put before its command line: another network namespace.</param>
    public static async Task<MosquittoBroker> Start(CancellationToken cancel, Func<string, string, string>? change = null, string[]? within = null)
    {
        if (!File.Exists(Program))
            Assert.Skip($"{Program} is not installed (Debian package: mosquitto)");
        var folder = Directory.CreateTempSubdirectory("mosquitto-").FullName;
        var port = FreePort();
        var text = Configuration(folder, port);
        var broker = new MosquittoBroker(folder, port, change?.Invoke(text, folder) ?? text, within ?? []);
        try
        {
            await broker.Restart(cancel);
            return broker;
        }
        catch
        {
            await broker.DisposeAsync();
            throw;
        }
    }

    /// <summary>Starts it on the same port and folder; it must not be running.</summary>
    public async Task Restart(CancellationToken cancel)
    {
        var path = Path.Combine(Folder, "mosquitto.conf");
        await File.WriteAllTextAsync(path, configuration, cancel);
        var from = log.Count;
        string[] line = [.. within, Program, "-c", path];
        process = Command.Start(line[0], line[1..]);
        log.Follow(process.StandardError);
        await log.When(line => line.Contains(" running", StringComparison.Ordinal), from, cancel);
    }

    /// <summary>Ends it in order: it saves its sessions and retained messages.</summary>
    public async Task Stop(CancellationToken cancel)
    {
        await Command.Run("/bin/kill", ["-TERM", process!.Id.ToString()], cancel);
        await process.WaitForExitAsync(cancel);
    }

    /// <summary>Has it save its sessions and retained messages, as the shipped configuration does each minute.</summary>
    public async Task Save(CancellationToken cancel)
    {
        var from = log.Count;
        await Command.Run("/bin/kill", ["-USR1", process!.Id.ToString()], cancel);
        await log.When(line => line.Contains("Saving in-memory database", StringComparison.Ordinal), from, cancel);
    }

    /// <summary>Ends it as a power cut would: nothing is saved.</summary>
    public async Task Kill(CancellationToken cancel)
    {
        process!.Kill();
        await process.WaitForExitAsync(cancel);
    }

    /// <summary>Publishes with mosquitto_pub and waits until the broker has it.</summary>
    public Task Publish(string topic, string payload, CancellationToken cancel, bool retain = false, int qos = 1) =>
        Command.Run("mosquitto_pub", [.. At, "-t", topic, "-q", qos.ToString(), .. retain ? ["-r"] : Array.Empty<string>(), "-m", payload], cancel);

    /// <summary>Publishes each line as one message, over one connection, at QoS 1.</summary>
    public Task PublishLines(string topic, IEnumerable<string> lines, CancellationToken cancel) =>
        Command.Run("mosquitto_pub", [.. At, "-t", topic, "-q", "1", "-l"], cancel, string.Join('\n', lines) + "\n");

    /// <summary>Subscribes with mosquitto_sub; the subscription stands when the task is done.</summary>
    public async Task<MosquittoSubscription> Subscribe(string filter, CancellationToken cancel)
    {
        var id = $"test-subscriber-{Interlocked.Increment(ref subscriptions)}";
        var from = log.Count;
        var process = Command.Start("mosquitto_sub", [.. At, "-i", id, "-t", filter, "-q", "1", "-F", "%t %p"]);
        await log.When(line => line.Contains($"{id} 1 {filter}", StringComparison.Ordinal), from, cancel);
        return new MosquittoSubscription(process);
    }

    /// <summary>Waits until the broker has logged such a line since it was first started.</summary>
    public Task WhenLogged(Func<string, bool> condition, CancellationToken cancel) => log.When(condition, 0, cancel);

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
        {
            process.Kill();
            await process.WaitForExitAsync();
        }
        Directory.Delete(Folder, recursive: true);
    }

    string[] At => ["-h", Host, "-p", Port.ToString()];

    static string Configuration(string folder, int port)
    {
        var shipped = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "deploy", "mosquitto.conf"));
        foreach (var replaced in new[] { ShippedListener, ShippedStore })
            Assert.Contains(replaced, shipped, StringComparison.Ordinal);
        return new StringBuilder(shipped)
            .Replace(ShippedListener, $"listener {port} 127.0.0.1")
            .Replace(ShippedStore, $"persistence_location {folder}/")
            // Started by root it would change to a user that may not write to the folder.
            .AppendLine($"user {Environment.UserName}")
            .AppendLine("log_type subscribe\nlog_type information")
            .ToString();
    }

    static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
