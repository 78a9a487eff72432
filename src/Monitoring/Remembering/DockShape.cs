using System.Security.Cryptography;
using System.Text;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Remembering;

/// <summary>What a dock's memory rests on, so that a changed site file is noticed. Limits, delays and slips are not in it.</summary>
/// <param name="Source">Transformer or service.</param>
/// <param name="Network">Digest of supply, source, cables and outlets.</param>
/// <param name="Outlets">By pedestal and outlet: rating, legs, neutral, breaker.</param>
sealed record DockShape(
    string Source, string Network, IReadOnlyDictionary<string, IReadOnlyDictionary<string, string>> Outlets)
{
    public static DockShape Of(SiteDefinition site, DockDefinition dock)
    {
        var outlets = dock.Pedestals.ToDictionary(
            pedestal => pedestal.Key,
            pedestal => (IReadOnlyDictionary<string, string>)pedestal.Value.Outlets.ToDictionary(outlet => outlet.Key, outlet => Of(site, outlet.Value)));
        var source = $"{site.Supply.Name} {site.Supply.NominalVolts} V {dock.Source}";
        var lines = dock.Cables.Select(cable => cable.ToString()).Concat(
            from pedestal in outlets
            from outlet in pedestal.Value
            select $"{pedestal.Key} {outlet.Key} {outlet.Value}").Prepend(source);
        return new(source, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', lines)))), outlets);
    }

    /// <summary>It is the same pedestal with the same outlets.</summary>
    public bool HasSame(string pedestal, DockShape other) =>
        Outlets.TryGetValue(pedestal, out var its) && other.Outlets.TryGetValue(pedestal, out var others)
        && its.Count == others.Count && its.All(outlet => others.GetValueOrDefault(outlet.Key) == outlet.Value);

    /// <summary>It is the same outlet.</summary>
    public bool HasSame(string pedestal, string outlet, DockShape other) =>
        Outlets.GetValueOrDefault(pedestal)?.GetValueOrDefault(outlet) is { } its
        && its == other.Outlets.GetValueOrDefault(pedestal)?.GetValueOrDefault(outlet);

    static string Of(SiteDefinition site, OutletDefinition outlet) =>
        $"{outlet.RatingAmps} A {string.Join('+', outlet.Legs)}{(outlet.HasNeutral ? "+N" : "")} {outlet.Breaker ?? site.Limits.Breaker}";
}
