using System.Text.Json.Serialization;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.Journaling;
using Farberth.Service.Views;
using Microsoft.Extensions.Hosting;

namespace Farberth.Service.SiteEditing;

/// <summary>What a site file's text would change.</summary>
/// <param name="Mistakes">All that is wrong with it; then nothing else is said.</param>
/// <param name="Sha256">Of the text in UTF-8.</param>
/// <param name="Over">Of the text that it is compared with: the one in use, or already put to use for the next start.</param>
public sealed record SiteDifference(
    IReadOnlyList<SiteMistake> Mistakes, string Sha256, string? Over, IReadOnlyList<SiteChange> Changes, IReadOnlyList<ProfileChange> Volts);

/// <summary>What became of a site file that somebody wanted to put to use.</summary>
/// <param name="Why">Why it was not; null: it is used from the next start on.</param>
/// <param name="BeginsAgain">That start is now.</param>
public sealed record SiteApplied(IReadOnlyList<SiteMistake> Mistakes, string? Why, string Sha256, bool BeginsAgain)
{
    [JsonIgnore]
    public bool IsDone => Why is null && Mistakes.Count == 0;
}

/// <summary>
/// Another site file: what is wrong with it, what it would change, and putting it to use. A file with a mistake is never put to use.
/// The running service keeps the site that it began with. From its next start on it uses the new one, as far as what it remembers fits; that
/// start can be at once and within the process: what holds for a restart holds for it too.
/// </summary>
public sealed class SiteEditor(
    SiteDefinition site, ServiceOptions options, LatestView latest, JournalSetup journal, Audit audit, IHostApplicationLifetime lifetime, TimeProvider clock)
    : IDisposable
{
    /// <summary>Of a site file, in characters; ten docks of a hundred pedestals take a tenth of it.</summary>
    public const int Longest = 1_000_000;

    readonly SemaphoreSlim one = new(1);
    string? applied;
    volatile bool beginsAgain;

    /// <summary>The text in use, or already put to use for the next start; null where it is not known.</summary>
    public string? Text => applied ?? options.SiteText;

    /// <summary>A file waits for the next start.</summary>
    public bool IsWaiting => applied is not null;

    /// <summary>The service ends so that another one can begin.</summary>
    public bool BeginsAgain => beginsAgain;

    public void Dispose() => one.Dispose();

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
    /// <param name="isNow">The next start is to be now.</param>
    public async Task<SiteApplied> Apply(string text, string by, string? over, bool isNow = false)
    {
        await one.WaitAsync().ConfigureAwait(false);
        try
        {
            var (mistakes, why) = Objection(text, over);
            if (why is null && mistakes.Count == 0)
                why = Keep(text, by);
            await audit.Write(by, "apply site file", AppliedSite.Sha256(text), why ?? (mistakes.Count > 0 ? $"{mistakes.Count} mistakes" : "done")).ConfigureAwait(false);
            beginsAgain = isNow && why is null && mistakes.Count == 0;
            if (beginsAgain)
                lifetime.StopApplication();
            return new(mistakes, why, AppliedSite.Sha256(text), beginsAgain);
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
