namespace Farberth.Acceptance.Tests;

/// <summary>A folder of a test's own, gone when the test ends.</summary>
sealed class TemporaryFolder : IDisposable
{
    readonly string path = Directory.CreateTempSubdirectory("farberth-").FullName;

    public string this[string name] => Path.Combine(path, name);

    public void Dispose() => Directory.Delete(path, recursive: true);
}
