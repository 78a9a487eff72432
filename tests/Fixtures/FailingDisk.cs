using System.ComponentModel;

namespace Farberth.Tests.Fixtures;

/// <summary>
/// A small ext4 file system in a file, mounted as Debian mounts its own: after the first error the kernel makes it read-only, also for
/// whoever has a file open. Tests that need it are skipped, with the reason, where none may be mounted.
/// </summary>
public sealed class FailingDisk : IAsyncDisposable
{
    readonly string image, trigger;

    FailingDisk(string folder, string image, string trigger) => (Folder, this.image, this.trigger) = (folder, image, trigger);

    public string Folder { get; }

    public static async Task<FailingDisk> Mount(int mebibytes, CancellationToken cancel)
    {
        var (folder, image) = (Directory.CreateTempSubdirectory("failing-disk-").FullName, Path.GetTempFileName());
        try
        {
            await Command.Run("truncate", ["-s", $"{mebibytes}M", image], cancel);
            await Command.Run("mkfs.ext4", ["-q", "-F", image], cancel);
            await Mount(image, folder, cancel);
        }
        catch (Exception e) when (e is InvalidOperationException or Win32Exception)
        {
            File.Delete(image);
            Directory.Delete(folder);
            Assert.Skip($"no file system can be mounted here: {e.Message}");
            throw;
        }
        var device = Path.GetFileName((await Command.Run("findmnt", ["-n", "-o", "SOURCE", folder], cancel)).Trim());
        return new FailingDisk(folder, image, $"/sys/fs/ext4/{device}/trigger_fs_error");
    }

    /// <summary>The kernel finds an error: read-only from now on.</summary>
    public async Task Fail(CancellationToken cancel)
    {
        try
        {
            await File.WriteAllTextAsync(trigger, "1", cancel);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Assert.Skip($"this kernel cannot be told to find an error on a disk: {e.Message}");
        }
    }

    /// <summary>As somebody would who finds it so: unmounted, checked, mounted. Nobody may have a file open there.</summary>
    public async Task Repair(CancellationToken cancel)
    {
        await Command.Run("umount", [Folder], cancel);
        await Command.Run("bash", ["-c", $"e2fsck -f -y '{image}' || [ $? -le 2 ]"], cancel);
        await Mount(image, Folder, cancel);
    }

    public async ValueTask DisposeAsync()
    {
        await Command.Run("umount", ["-l", Folder], CancellationToken.None);
        Directory.Delete(Folder);
        File.Delete(image);
    }

    static Task Mount(string image, string folder, CancellationToken cancel) => Command.Run("mount", ["-o", "loop,errors=remount-ro", image, folder], cancel);
}
