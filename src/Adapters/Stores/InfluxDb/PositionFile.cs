using System.Globalization;
using Farberth.Adapters.Stores.Intake;

namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>A cursor on disk; a crash leaves the old one or the new one.</summary>
sealed class PositionFile(string path)
{
    /// <summary>The beginning where there is none yet, or what is there cannot be read: points sent again change nothing.</summary>
    public LogPosition Read() =>
        File.Exists(path) && long.TryParse(File.ReadAllText(path), NumberStyles.None, CultureInfo.InvariantCulture, out var offset)
            ? new LogPosition(offset) : LogPosition.Beginning;

    /// <exception cref="IOException">The disk does not take it.</exception>
    public void Write(LogPosition position) => WholeFile.Replace(path, System.Text.Encoding.ASCII.GetBytes(position.ToString()));
}
