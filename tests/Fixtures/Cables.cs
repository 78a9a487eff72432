using System.ComponentModel;
using System.Globalization;

namespace Farberth.Tests.Fixtures;

/// <summary>
/// A network namespace at the end of virtual cables that can be pulled. Whoever sends into a pulled cable is told nothing: packets are
/// gone, as with a switch that has lost its power. Tests that need it are skipped, with the reason, where none may be made.
/// </summary>
public sealed class Cables : IAsyncDisposable
{
    static int made;

    readonly string space;
    readonly int number;

    Cables(int number) => (this.number, space) = (number, $"farberth-test-{number}");

    /// <summary>To be put before a command line that is to run at the far end.</summary>
    public string[] Inside => ["ip", "netns", "exec", space];

    public static async Task<Cables> Lay(int count, CancellationToken cancel)
    {
        // Two test programs at a time must not meet.
        var cables = new Cables((Environment.ProcessId * 4 + Interlocked.Increment(ref made)) % 8192);
        try
        {
            await Ip(cancel, "netns", "add", cables.space);
            for (var cable = 0; cable < count; cable++)
                await cables.Join(cable, cancel);
            return cables;
        }
        catch (Exception e) when (e is InvalidOperationException or Win32Exception)
        {
            await cables.DisposeAsync();
            Assert.Skip($"no network namespace can be made here: {e.Message}");
            throw;
        }
    }

    /// <summary>The far end's address on a cable.</summary>
    public string Host(int cable) => Address(cable, 2);

    public Task Pull(int cable, CancellationToken cancel) => Ip(cancel, "-n", space, "link", "set", $"cable{cable}", "down");

    public Task Plug(int cable, CancellationToken cancel) => Ip(cancel, "-n", space, "link", "set", $"cable{cable}", "up");

    public async ValueTask DisposeAsync()
    {
        // Its ends of the cables go with it, and so do ours.
        if (Directory.Exists("/run/netns") && File.Exists($"/run/netns/{space}"))
            await Ip(CancellationToken.None, "netns", "del", space);
    }

    async Task Join(int cable, CancellationToken cancel)
    {
        var near = $"fb{number}c{cable}";
        await Ip(cancel, "link", "add", near, "type", "veth", "peer", "name", $"cable{cable}", "netns", space);
        await Ip(cancel, "addr", "add", $"{Address(cable, 1)}/30", "dev", near);
        await Ip(cancel, "link", "set", near, "up");
        await Ip(cancel, "-n", space, "addr", "add", $"{Address(cable, 2)}/30", "dev", $"cable{cable}");
        await Plug(cable, cancel);
    }

    /// <summary>In 198.18.0.0/15, which RFC 2544 keeps for trials of networks: four addresses a cable.</summary>
    string Address(int cable, int end)
    {
        var at = (number * 4 + cable) * 4 + end;
        return string.Create(CultureInfo.InvariantCulture, $"198.{18 + at / 65536}.{at / 256 % 256}.{at % 256}");
    }

    static Task Ip(CancellationToken cancel, params string[] arguments) => Command.Run("ip", arguments, cancel);
}
