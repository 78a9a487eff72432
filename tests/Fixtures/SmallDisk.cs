using System.ComponentModel;

namespace Farberth.Tests.Fixtures;

/// <summary>A small file system in memory. Tests that need it are skipped, with the reason, where none may be mounted.</summary>
public sealed class SmallDisk : IAsyncDisposable
{
    readonly FileStream filler;

    SmallDisk(string folder)
    {
        Folder = folder;
        filler = new FileStream(Path.Combine(folder, "filler"), FileMode.CreateNew, FileAccess.Write, FileShare.None, bufferSize: 0);
    }

    public string Folder { get; }

    public static async Task<SmallDisk> Mount(int kibibytes, CancellationToken cancel)
    {
        var folder = Directory.CreateTempSubdirectory("small-disk-").FullName;
        try
        {
            await Command.Run("mount", ["-t", "tmpfs", "-o", $"size={kibibytes}k", "tmpfs", folder], cancel);
            return new SmallDisk(folder);
        }
        catch (Exception e) when (e is InvalidOperationException or Win32Exception)
        {
            Directory.Delete(folder);
            Assert.Skip($"no file system can be mounted here: {e.Message}");
            throw;
        }
    }

    /// <summary>Takes all the room that is left.</summary>
    public void Fill()
    {
        var block = new byte[4096];
        try
        {
            while (true)
                filler.Write(block);
        }
        catch (IOException)
        {
            // Full.
        }
    }

    public void Free() => filler.SetLength(0);

    public async ValueTask DisposeAsync()
    {
        await filler.DisposeAsync();
        await Command.Run("umount", ["-l", Folder], CancellationToken.None);
        Directory.Delete(Folder);
    }
}
