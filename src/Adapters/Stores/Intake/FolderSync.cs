using System.Runtime.InteropServices;

namespace Farberth.Adapters.Stores.Intake;

/// <summary>
/// Makes the names in a folder durable: after a new file or a rename, the file's own flush does not promise that its name
/// is on disk. The class library opens no folders, so this asks the system's C library; elsewhere than on Unix it does nothing.
/// </summary>
public static partial class FolderSync
{
    const int ReadOnly = 0;

    /// <exception cref="IOException">The folder cannot be opened or flushed.</exception>
    public static void Flush(string folder)
    {
        if (OperatingSystem.IsWindows())
            return;
        var descriptor = Open(folder, ReadOnly);
        if (descriptor < 0)
            throw Failure("open", folder);
        try
        {
            if (Sync(descriptor) != 0)
                throw Failure("flush", folder);
        }
        finally
        {
            _ = Close(descriptor);
        }
    }

    static IOException Failure(string what, string folder) =>
        new($"cannot {what} the folder {folder}: {Marshal.GetPInvokeErrorMessage(Marshal.GetLastPInvokeError())}");

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "fsync", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int Sync(int descriptor);

    [LibraryImport("libc", EntryPoint = "close", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int Close(int descriptor);
}
