using System.Collections.ObjectModel;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Reads the root of a site file and what all docks share.</summary>
sealed class SiteReader(ValueReader read)
{
    static readonly IReadOnlyList<string> SupplyNames = [.. SupplySystem.All.Select(supply => supply.Name)];

    /// <summary>The site; only to be used if no mistake was reported, else parts of it are stand-ins.</summary>
    public SiteDefinition Read(YamlValue root)
    {
        var fields = read.Fields(root, SiteKeys.Site);
        var supply = Supply(fields["supply"]);
        var slips = Slips(fields["slips"]);
        var slipNames = fields["slips"] is null or YamlMap ? slips.Keys.ToHashSet() : null;
        return new(
            read.Name(fields["site"]) ?? "",
            TimeZone(fields["timezone"]) ?? "",
            supply ?? SupplySystem.SplitPhase120,
            Docks(fields["docks"], new DockReader(read, supply, slipNames)),
            slips,
            new LimitsReader(read, supply).Read(fields["limits"]),
            AlarmTimings(fields["alarms"]))
        {
            Advice = new AdviceReader(read, supply).Read(fields["advice"]),
        };
    }

    SupplySystem? Supply(YamlValue? value)
    {
        if (read.Text(value) is not { } text)
            return null;
        var supply = SupplySystem.All.FirstOrDefault(known => known.Name == text);
        if (supply is null)
            read.Wrong(value!.At, Sentence.Of("{0} is no supply known here; write {1}.", Spelling.Quote(text), Spelling.Either(SupplyNames)));
        return supply;
    }

    string? TimeZone(YamlValue? value)
    {
        if (read.Text(value) is not { } text)
            return null;
        if (TimeZoneInfo.TryFindSystemTimeZoneById(text, out _))
            return text;
        read.Wrong(value!.At, Sentence.Of("{0} is no time zone; write its IANA name, as 'America/Toronto'.", Spelling.Quote(text)));
        return null;
    }

    ReadOnlyDictionary<string, DockDefinition> Docks(YamlValue? value, DockReader dockReader)
    {
        var entries = read.Named(value, Sentence.Of("a dock"));
        if (value is YamlMap && entries.Count == 0)
            read.Wrong(value.At, Sentence.Of("'docks' is empty; describe at least one dock."));
        var docks = new Dictionary<string, DockDefinition>();
        foreach (var entry in entries)
            docks.Add(entry.Key, dockReader.Read(entry));
        CheckPedestalNames(entries);
        return docks.AsReadOnly();
    }

    /// <summary>A reading's topic names the pedestal but not the dock, so a name may stand once in the whole site.</summary>
    void CheckPedestalNames(IReadOnlyList<YamlEntry> docks)
    {
        var pedestals = docks.SelectMany(dock => dock.Value is YamlMap map ? map.Entries : [])
            .Where(entry => entry.Key == "pedestals")
            .SelectMany(entry => entry.Value is YamlMap map ? map.Entries : []);
        foreach (var namesakes in pedestals.GroupBy(entry => entry.Key))
        {
            var first = namesakes.First().KeyAt;
            foreach (var other in namesakes.Skip(1))
            {
                read.Wrong(other.KeyAt, Sentence.Of("The pedestal '{0}' is also in another dock, on line {1}; give each pedestal of the site a name of its own.", other.Key, first.Line));
            }
        }
    }

    ReadOnlyDictionary<string, SlipDefinition> Slips(YamlValue? value)
    {
        var slips = new Dictionary<string, SlipDefinition>();
        foreach (var entry in read.Named(value, Sentence.Of("a slip")))
        {
            var fields = read.Fields(entry.Value, SiteKeys.Slip);
            slips.Add(entry.Key, new(
                entry.Key,
                read.Quantity(fields["length"], Expected.SlipLength),
                read.Quantity(fields["beam"], Expected.SlipBeam),
                read.Quantity(fields["depth"], Expected.SlipDepth)));
        }
        return slips.AsReadOnly();
    }

    ReadOnlyDictionary<AlarmKind, AlarmTiming> AlarmTimings(YamlValue? value)
    {
        var timings = new Dictionary<AlarmKind, AlarmTiming>(RegionDefaults.AlarmTimings);
        var kinds = read.Fields(value, SiteKeys.Alarms);
        foreach (var (kind, usual) in RegionDefaults.AlarmTimings)
        {
            var fields = read.Fields(kinds[kind.Word()], SiteKeys.AlarmTiming);
            timings[kind] = new(
                Delay(fields["raise-after"]) ?? usual.RaiseAfter,
                Delay(fields["clear-after"]) ?? usual.ClearAfter,
                read.Quantity(fields["deadband"], Expected.Deadband) ?? usual.Deadband);
        }
        return timings.AsReadOnly();
    }

    TimeSpan? Delay(YamlValue? value) =>
        read.Quantity(value, Expected.AlarmDelay) is { } seconds ? TimeSpan.FromSeconds(seconds) : null;
}
