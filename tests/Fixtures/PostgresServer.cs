using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace Farberth.Tests.Fixtures;

/// <summary>
/// Debian's PostgreSQL on a free loopback port with a database of its own in a temporary folder. Tests that need it are skipped, with
/// the reason, where it is not installed.
/// </summary>
public sealed class PostgresServer : IAsyncLifetime
{
    const string Programs = "/usr/lib/postgresql/15/bin";

    // PostgreSQL refuses to be run by the superuser; Debian's package makes a user for it.
    static readonly bool IsSuperuser = Environment.UserName == "root";

    readonly string folder = Directory.CreateTempSubdirectory("postgres-").FullName;
    readonly CommandLog log = new();
    Process? process;
    int databases;

    public int Port { get; private set; }

    static string? Missing => File.Exists($"{Programs}/initdb") ? null : $"{Programs}/initdb is not installed (Debian package: postgresql-15)";

    /// <summary>An empty database, or a skipped test.</summary>
    public async Task<string> Database(CancellationToken cancel)
    {
        if (Missing is { } reason)
            Assert.Skip(reason);
        var name = $"farberth_{Interlocked.Increment(ref databases)}";
        await Command.Run($"{Programs}/createdb", ["-h", "127.0.0.1", "-p", Port.ToString(), "-U", "farberth", name], cancel);
        return $"Host=127.0.0.1;Port={Port};Username=farberth;Database={name}";
    }

    /// <summary>One statement by PostgreSQL's own client.</summary>
    public static Task<string> Psql(string database, string statement, CancellationToken cancel)
    {
        var parts = database.Split(';').Select(part => part.Split('=')).ToDictionary(part => part[0], part => part[1]);
        return Command.Run($"{Programs}/psql",
            ["-h", parts["Host"], "-p", parts["Port"], "-U", parts["Username"], "-d", parts["Database"], "-At", "-c", statement], cancel);
    }

    public async ValueTask InitializeAsync()
    {
        if (Missing != null)
            return;
        var cancel = TestContext.Current.CancellationToken;
        Port = FreePort();
        if (IsSuperuser)
            await Command.Run("chown", ["postgres", folder], cancel);
        var (program, arguments) = AsUser("initdb", "-D", $"{folder}/data", "-U", "farberth", "--auth=trust", "--encoding=UTF8", "--no-locale");
        await Command.Run(program, arguments, cancel);
        await Start(cancel);
    }

    /// <summary>Starts it on the same port and folder; it must not be running.</summary>
    public async Task Start(CancellationToken cancel)
    {
        var from = log.Count;
        var (program, arguments) = AsUser(
            "postgres", "-D", $"{folder}/data", "-p", Port.ToString(), "-k", folder, "-c", "listen_addresses=127.0.0.1");
        process = Command.Start(program, arguments);
        log.Follow(process.StandardError);
        await log.When(line => line.Contains("ready to accept connections", StringComparison.Ordinal), from, cancel);
    }

    /// <summary>Ends it as a power cut would: nobody is told, nothing is written.</summary>
    public async Task Kill(CancellationToken cancel)
    {
        var pid = (await File.ReadAllLinesAsync($"{folder}/data/postmaster.pid", cancel))[0];
        await Command.Run("/bin/kill", ["-QUIT", pid], cancel);
        await process!.WaitForExitAsync(cancel);
    }

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
            await Kill(CancellationToken.None);
        Directory.Delete(folder, recursive: true);
    }

    static (string Program, string[] Arguments) AsUser(string program, params string[] arguments) => IsSuperuser
        ? ("runuser", ["-u", "postgres", "--", $"{Programs}/{program}", .. arguments]) : ($"{Programs}/{program}", arguments);

    static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
