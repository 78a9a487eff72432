using System.Security.Cryptography;

namespace Farberth.Service.Boater;

/// <summary>
/// What boater links are signed with: 32 random bytes in the data folder, made at the first start and readable by the service's own user
/// alone; without a folder good for one run. Whoever deletes the file closes every link that was ever given out.
/// </summary>
sealed class LinkKey
{
    public const string FileName = "boater-link.key";

    const int Bytes = 32;

    readonly byte[] key;

    LinkKey(byte[] key) => this.key = key;

    /// <exception cref="IOException">The folder takes no file, or the file is no key.</exception>
    public static LinkKey In(string? folder) => new(folder is null ? RandomNumberGenerator.GetBytes(Bytes) : Kept(Path.Combine(folder, FileName)));

    /// <summary>HMAC-SHA-256 (RFC 2104), its first 16 bytes: 128 bits, no less than half, as its section 5 wants.</summary>
    public byte[] Sign(ReadOnlySpan<byte> what) => HMACSHA256.HashData(key, what)[..16];

    /// <summary>Takes as long whatever differs.</summary>
    public bool Fits(ReadOnlySpan<byte> what, ReadOnlySpan<byte> signature) => CryptographicOperations.FixedTimeEquals(Sign(what), signature);

    static byte[] Kept(string path)
    {
        if (!File.Exists(path))
            Make(path);
        var key = File.ReadAllBytes(path);
        return key.Length == Bytes ? key : throw new IOException($"{path} is no key of {Bytes} bytes. Delete it for a new one; every boater link closes then.");
    }

    /// <summary>Beside, and renamed: never half a key.</summary>
    static void Make(string path)
    {
        var next = $"{path}.next";
        File.Delete(next);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using (var file = new FileStream(next, options))
        {
            file.Write(RandomNumberGenerator.GetBytes(Bytes));
            file.Flush(flushToDisk: true);
        }
        File.Move(next, path);
    }
}
