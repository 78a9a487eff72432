using System.Globalization;

namespace Farberth.Grid.Tests.Published;

/// <summary>Published test feeders that are too large to carry: found in a folder "shared/feeders" beside the checkout.</summary>
static class SharedFeeders
{
    /// <summary>Rows of a CSV file as cells; comment lines and empty lines left out. Skips the test where the folder is not there.</summary>
    public static IEnumerable<string[]> Rows(string path)
    {
        var full = Path.Combine(Folder(), path);
        return File.ReadLines(full)
            .Where(line => line.Length > 0 && !line.StartsWith('#'))
            .Select(line => line.Split(',', StringSplitOptions.TrimEntries));
    }

    public static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);

    static string Folder()
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at != null; at = at.Parent)
        {
            var beside = Path.Combine(at.FullName, "shared", "feeders");
            if (Directory.Exists(beside))
                return beside;
        }
        Assert.Skip("the published feeders (shared/feeders) are not beside this checkout");
        return "";
    }
}
