using System.Text.Json.Serialization;
using Farberth.Monitoring.Alarms.Rates;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Remembering;

/// <summary>All that a site's monitor remembers between two ticks: plain records, which nothing changes any more.</summary>
public sealed record SiteMemory
{
    /// <summary>To be raised whenever a record of the memory becomes another one.</summary>
    internal const int PresentVersion = 4;

    [JsonConstructor]
    internal SiteMemory(
        int version, string site, DateTimeOffset? lastTick, IReadOnlyDictionary<string, DockMemory> docks, TallyMemory tally,
        IReadOnlyList<RefusalTally> refusals) =>
        (Version, Site, LastTick, Docks, Tally, Refusals) = (version, site, lastTick, docks, tally, refusals);

    [JsonInclude]
    internal int Version { get; init; }

    /// <summary>Name of the site.</summary>
    [JsonInclude]
    internal string Site { get; init; }

    [JsonInclude]
    internal DateTimeOffset? LastTick { get; init; }

    /// <summary>By name.</summary>
    [JsonInclude]
    internal IReadOnlyDictionary<string, DockMemory> Docks { get; init; }

    [JsonInclude]
    internal TallyMemory Tally { get; init; }

    [JsonInclude]
    internal IReadOnlyList<RefusalTally> Refusals { get; init; }

    /// <summary>JSON in UTF-8, gzipped. May be called on another thread than the monitor's.</summary>
    public byte[] ToBytes() => MemoryBytes.Of(this);

    /// <summary>Reads what <see cref="ToBytes"/> has written.</summary>
    public static SiteMemoryResult Read(ReadOnlyMemory<byte> bytes) => MemoryBytes.Read(bytes);
}

/// <summary>What became of a memory's bytes.</summary>
/// <param name="Memory">Null if they cannot be used.</param>
/// <param name="Problem">Why not; null if they can.</param>
public sealed record SiteMemoryResult(SiteMemory? Memory, string? Problem);
