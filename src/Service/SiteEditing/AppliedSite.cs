using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Site;

namespace Farberth.Service.SiteEditing;

/// <summary>
/// A site file that somebody has put to use from the console, in place of the one that the service was started with. It counts for as long
/// as that one is what it was: whoever edits the file itself afterwards has the last word.
/// </summary>
/// <param name="Over">SHA-256 of the file that the service was started with, lower-case hexadecimal.</param>
public sealed record AppliedSite(string Over, DateTimeOffset At, string By, string Text)
{
    const string Name = "site-in-use";

    public static string Sha256(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    /// <summary>Durable on return.</summary>
    /// <exception cref="IOException">The disk does not take it; what was in use before still is.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written to.</exception>
    public void Write(string folder) => WholeFile.Replace(Path.Combine(folder, Name), JsonSerializer.SerializeToUtf8Bytes(this));

    /// <summary>The text to begin with, and what is to be said about that.</summary>
    /// <param name="given">The text of the file that the service is started with.</param>
    /// <param name="note">Null where there is nothing to say.</param>
    public static string TextInUse(string folder, string given, out string? note)
    {
        note = null;
        if (Read(folder, out var problem) is not { } applied)
        {
            note = problem is null ? null : $"What was put to use from the console cannot be read ({problem}); the site file itself is used";
            return given;
        }
        if (applied.Over != Sha256(given))
        {
            note = $"The site file has been changed since {applied.By} put another to use on {applied.At:u}; the file itself is used";
            return given;
        }
        var site = SiteFile.Read(applied.Text);
        note = site.Site is null ? $"What {applied.By} put to use on {applied.At:u} has mistakes by this version's rules ({site.Mistakes[0].Message}); the site file itself is used"
            : $"The site file that {applied.By} put to use on {applied.At:u} is used in place of the one named";
        return site.Site is null ? given : applied.Text;
    }

    static AppliedSite? Read(string folder, out string? problem)
    {
        var path = Path.Combine(folder, Name);
        problem = null;
        try
        {
            return File.Exists(path) ? JsonSerializer.Deserialize<AppliedSite>(File.ReadAllBytes(path)) : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            problem = e.Message;
            return null;
        }
    }
}
