using Farberth.Monitoring.Site;

namespace Farberth.Service.SiteEditing;

/// <summary>Something that one site file says and another does not.</summary>
/// <param name="Thing">As "dock C, outlet C12.A".</param>
/// <param name="What">added, removed or changed.</param>
/// <param name="Fact">Which of its facts has changed; null where the whole thing was added or removed.</param>
/// <param name="Before">Null: it was not there.</param>
/// <param name="After">Null: it is there no more.</param>
public sealed record SiteChange(string Thing, string What, string? Fact, string? Before, string? After)
{
    /// <summary>All differences, by thing.</summary>
    public static IReadOnlyList<SiteChange> Between(SiteDefinition before, SiteDefinition after)
    {
        var (old, young) = (SiteFacts.Of(before), SiteFacts.Of(after));
        return
        [
            .. old.Where(thing => !young.ContainsKey(thing.Key)).Select(thing => new SiteChange(thing.Key, "removed", null, Words(thing.Value), null)),
            .. young.Where(thing => !old.ContainsKey(thing.Key)).Select(thing => new SiteChange(thing.Key, "added", null, null, Words(thing.Value))),
            .. young.Where(thing => old.ContainsKey(thing.Key)).SelectMany(thing => Between(thing.Key, old[thing.Key], thing.Value)),
        ];
    }

    static IEnumerable<SiteChange> Between(string thing, IReadOnlyDictionary<string, string> before, IReadOnlyDictionary<string, string> after) =>
        from fact in before.Keys.Union(after.Keys)
        let was = before.GetValueOrDefault(fact)
        let becomes = after.GetValueOrDefault(fact)
        where was != becomes
        select new SiteChange(thing, "changed", fact, was, becomes);

    static string Words(IReadOnlyDictionary<string, string> facts) => string.Join(", ", facts.Select(fact => $"{fact.Key} {fact.Value}"));
}
