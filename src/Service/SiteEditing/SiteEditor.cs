using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.Journaling;
using Farberth.Service.Views;

namespace Farberth.Service.SiteEditing;

/// <summary>What a site file's text would change.</summary>
/// <param name="Mistakes">All that is wrong with it; then nothing else is said.</param>
/// <param name="Sha256">Of the text in UTF-8.</param>
/// <param name="Over">Of the text that it is compared with: the one in use, or already put to use for the next start.</param>
public sealed record SiteDifference(
    IReadOnlyList<SiteMistake> Mistakes, string Sha256, string? Over, IReadOnlyList<SiteChange> Changes, IReadOnlyList<ProfileChange> Volts);

/// <summary>What became of a site file that somebody wanted to put to use.</summary>
/// <param name="Why">Why it was not; null: it is used from the next start on.</param>
public sealed record SiteApplied(IReadOnlyList<SiteMistake> Mistakes, string? Why, string Sha256)
{
    public bool IsDone => Why is null && Mistakes.Count == 0;
}

/// <summary>
/// Another site file: what is wrong with it, what it would change, and putting it to use. A file with a mistake is never put to use.
/// The running monitor keeps the site that it began with; from the next start on it goes on with the new one, as far as what it remembers fits.
/// </summary>
public sealed class SiteEditor(SiteDefinition site, ServiceOptions options, LatestView latest, JournalSetup journal, Audit audit, TimeProvider clock)
{
    /// <summary>Of a site file, in characters; ten docks of a hundred pedestals take a tenth of it.</summary>
    public const int Longest = 1_000_000;

    readonly SemaphoreSlim one = new(1);
    string? applied;

    /// <summary>The text in use, or already put to use for the next start; null where it is not known.</summary>
    public string? Text => applied ?? options.SiteText;

    /// <summary>A file waits for the next start.</summary>
    public bool IsWaiting => applied is not null;

    public SiteDifference Difference(string text)
    {
        var read = SiteFile.Read(text);
        var over = Text is { } known ? AppliedSite.Sha256(known) : null;
        if (read.Site is not { } other)
            return new(read.Mistakes, AppliedSite.Sha256(text), over, [], []);
        var before = applied is null ? site : SiteFile.Read(applied).Site!;
        return new([], AppliedSite.Sha256(text), over, SiteChange.Between(before, other), ProfileChange.Between(before, other, latest.Value.Docks));
    }

    /// <summary>Puts it to use from the next start on.</summary>
    /// <param name="over">What the difference was shown to; null: whatever it is.</param>
    public async Task<SiteApplied> Apply(string text, string by, string? over)
    {
        await one.WaitAsync().ConfigureAwait(false);
        try
        {
            var (mistakes, why) = Objection(text, over);
            if (why is null && mistakes.Count == 0)
                why = Keep(text, by);
            await audit.Write(by, "apply site file", AppliedSite.Sha256(text), why ?? (mistakes.Count > 0 ? $"{mistakes.Count} mistakes" : "done")).ConfigureAwait(false);
            return new(mistakes, why, AppliedSite.Sha256(text));
        }
        finally
        {
            one.Release();
        }
    }

    /// <summary>The site files that were in use, the latest first.</summary>
    /// <exception cref="JournalException">The journal is away.</exception>
    public IReadOnlyList<SiteFileVersion> Versions(int limit) => journal.Journal?.SiteFiles(limit) ?? [];

    (IReadOnlyList<SiteMistake> Mistakes, string? Why) Objection(string text, string? over)
    {
        var read = SiteFile.Read(text);
        if (read.Site is not { } other)
            return (read.Mistakes, null);
        return ([], over is not null && Text is { } known && AppliedSite.Sha256(known) != over ? "another site file was put to use meanwhile: look at the difference again"
            : other.Name != site.Name ? $"it is the file of site {other.Name}, and this is {site.Name}"
            : journal.People.FirstOrDefault(person => person.Slip is { } slip && !other.Slips.ContainsKey(slip)) is { } person
                ? $"{person.Name} is told of slip {person.Slip}, which the file does not have"
            : options.DataFolder is null || options.GivenSiteText is null ? "nothing is kept, so nothing can be put to use"
            : null);
    }

    string? Keep(string text, string by)
    {
        try
        {
            new AppliedSite(AppliedSite.Sha256(options.GivenSiteText!), clock.GetUtcNow(), by, text).Write(options.DataFolder!);
            applied = text;
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return e.Message;
        }
    }
}
