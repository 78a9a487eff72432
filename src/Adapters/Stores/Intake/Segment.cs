using System.Globalization;

namespace Farberth.Adapters.Stores.Intake;

/// <summary>
/// One file of a log, named by the position of its first byte. What lies behind <paramref name="End"/> is the rest of a
/// write that failed, and nobody looks at it.
/// </summary>
sealed record Segment(string Path, LogPosition Start, LogPosition End)
{
    const string Extension = ".intake";

    public static Segment At(string folder, LogPosition start) => new(
        System.IO.Path.Combine(folder, start.Offset.ToString("D19", CultureInfo.InvariantCulture) + Extension), start, start);

    /// <summary>The segments of a folder in order. Each ends where the next begins, at the latest; the last one where its file does.</summary>
    public static IReadOnlyList<Segment> In(string folder)
    {
        var found = (
            from file in new DirectoryInfo(folder).EnumerateFiles("*" + Extension)
            where long.TryParse(System.IO.Path.GetFileNameWithoutExtension(file.Name), NumberStyles.None, CultureInfo.InvariantCulture, out _)
            let start = new LogPosition(long.Parse(System.IO.Path.GetFileNameWithoutExtension(file.Name), CultureInfo.InvariantCulture))
            orderby start
            select new Segment(file.FullName, start, start + file.Length)).ToList();
        for (var i = 0; i + 1 < found.Count; i++)
            if (found[i].End > found[i + 1].Start)
                found[i] = found[i] with { End = found[i + 1].Start };
        return found;
    }
}
