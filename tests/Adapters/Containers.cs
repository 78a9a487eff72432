using System.ComponentModel;
using System.Runtime.CompilerServices;
using DotNet.Testcontainers.Builders;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests;

/// <summary>
/// A container engine of the tests' own (Debian's docker.io), with images made of the programs that Debian's packages have put on this
/// machine: nothing is pulled, and no bridge is made. Tests that need it are skipped, with the reason, where none can be started.
/// </summary>
public sealed class Containers : IAsyncLifetime
{
    const string Engine = "/usr/sbin/dockerd";

    readonly string folder = Directory.CreateTempSubdirectory("containers-").FullName;
    readonly CommandLog log = new();
    System.Diagnostics.Process? process;
    string? problem;

    string Socket => $"unix://{folder}/docker.sock";

    public async ValueTask InitializeAsync()
    {
        var cancel = TestContext.Current.CancellationToken;
        try
        {
            if (!File.Exists(Engine))
                throw new InvalidOperationException($"{Engine} is not installed (Debian package: docker.io)");
            process = Command.Start(Engine, "--storage-driver=vfs", "--bridge=none", "--iptables=false", "-H", Socket,
                "--data-root", $"{folder}/data", "--exec-root", $"{folder}/exec", "--pidfile", $"{folder}/pid");
            log.Follow(process.StandardError);
            if (await log.When(line => line == CommandLog.Ended || line.Contains("API listen on", StringComparison.Ordinal), 0, cancel) == CommandLog.Ended)
                throw new InvalidOperationException($"{Engine} does not run here: {log}");
        }
        catch (Exception e) when (e is InvalidOperationException or Win32Exception)
        {
            problem = e.Message;
        }
    }

    /// <summary>An image with programs, the libraries that they ask for, a shell, and more files and folders of this machine.</summary>
    /// <param name="packages">Debian's, to be named where they are missing.</param>
    public async Task<ContainerBuilder> Builder(string name, string packages, string[] programs, string[] more, CancellationToken cancel)
    {
        var missing = programs.All(File.Exists) ? null : $"not installed: Debian's {packages}";
        if ((problem ?? missing) is { } reason)
            Assert.Skip($"no container: {reason.Split('\n')[0]}");
        await Command.Run("bash", ["-c", $$"""
            set -e -o pipefail
            list={{folder}}/list
            { ldd {{string.Join(' ', programs)}} /bin/sh | grep -o '/[^ ):]*'; ls -d {{string.Join(' ', programs.Concat(more).Where(Path.Exists))}} /bin/sh /etc/passwd /etc/group; } | sort -u > $list
            # The folders above them, so that whoever is not root may go through.
            awk -F/ '{ path = ""; for (part = 2; part < NF; part++) { path = path "/" $part; print path } }' $list | sort -u > $list.above
            tar -c -h --hard-dereference -P --no-recursion -T $list.above --recursion -T $list | docker -H {{Socket}} import - {{name}}
            """], cancel);
        return new ContainerBuilder(name).WithDockerEndpoint(Socket).WithImagePullPolicy(DotNet.Testcontainers.Images.PullPolicy.Never).WithCleanUp(false)
            .WithCreateParameterModifier(container => container.HostConfig!.NetworkMode = "host");
    }

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false })
        {
            await Command.Run("/bin/kill", ["-TERM", process.Id.ToString()], CancellationToken.None);
            await process.WaitForExitAsync();
        }
        // The engine leaves a mount behind.
        await Command.Run("bash", ["-c", $"umount -l {folder}/exec/netns/default 2>/dev/null || true; rm -rf {folder}"], CancellationToken.None);
    }

    /// <summary>
    /// The library would speak a newer version than Debian 12's engine does, and looks for that once, whoever asks it first for a container.
    /// </summary>
    [ModuleInitializer]
    internal static void SpeakItsVersion()
    {
        if (File.Exists(Engine))
            Environment.SetEnvironmentVariable("DOCKER_API_VERSION", Environment.GetEnvironmentVariable("DOCKER_API_VERSION") ?? "1.41");
    }
}
