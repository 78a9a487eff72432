using System.Collections.ObjectModel;
using Farberth.Grid.Network;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Reads one dock.</summary>
/// <param name="supply">Null where the site's supply cannot be read; what depends on it is then not checked.</param>
/// <param name="slips">The slips there are; null where they cannot be read.</param>
sealed class DockReader(ValueReader read, SupplySystem? supply, IReadOnlySet<string>? slips)
{
    readonly OutletReader _outlets = new(read, supply, slips);

    public DockDefinition Read(YamlEntry entry)
    {
        var fields = read.Fields(entry.Value, SiteKeys.Dock);
        var cables = Cables(fields["cables"], out var ends);
        var pedestals = Pedestals(fields["pedestals"], ends);
        var breakerAmps = read.Quantity(fields["feeder-breaker"], Expected.FeederBreaker);
        CheckFeederBreaker(fields["feeder-breaker"], breakerAmps, pedestals.Values);
        return new(entry.Key, Source(fields["source"]), breakerAmps, cables, pedestals);
    }

    SourceDefinition Source(YamlValue? value)
    {
        var fields = read.Fields(value, SiteKeys.Source);
        var expected = supply is null ? Expected.AnyVolts : Expected.NoLoad(supply.NominalVolts);
        var noLoadVolts = read.Quantity(fields["no-load"], expected) ?? double.NaN;
        var transformer = fields["transformer"] is { } plate ? new TransformerReader(read).Read(plate) : null;
        var faultAmps = read.Quantity(fields["fault-current"], Expected.FaultCurrent);
        var xToR = XToR(fields["x/r"]);
        if (fields["transformer"] is not null && fields["fault-current"] is { } fault)
            read.Wrong(fault.At, Sentence.Of("A source has a transformer or a fault current, not both; remove one."));
        if (fields["fault-current"] is { } current && fields["x/r"] is null)
            read.Wrong(current.At, Sentence.Of("'fault-current' needs 'x/r' beside it; add it."));
        if (fields["fault-current"] is null && fields["x/r"] is { } ratio)
            read.Wrong(ratio.At, Sentence.Of("'x/r' here belongs to a fault current; add 'fault-current', or move it into 'transformer'."));
        return new(noLoadVolts, transformer, faultAmps, xToR ?? 0);
    }

    double? XToR(YamlValue? value) => read.Number(value, Sentence.Of("The ratio x/r"), 0, TransformerReader.HighestXToR);

    ReadOnlyCollection<CableDefinition> Cables(YamlValue? value, out IReadOnlyList<CableEnds> ends)
    {
        var reader = new CableReader(read);
        var items = read.List(value, "'- { from: source, to: C1, ... }'");
        var cables = items.Select(reader.Read).ToList();
        ends = [.. cables.Select(cable => cable.Ends)];
        if (value is YamlList && cables.Count == 0)
            read.Wrong(value.At, Sentence.Of("'cables' is empty; describe at least the cable that begins at 'source'."));
        else if (value is YamlList)
            new CableTree(ends, read).Check(value.At);
        return cables.ConvertAll(cable => cable.Cable).AsReadOnly();
    }

    ReadOnlyDictionary<string, PedestalDefinition> Pedestals(YamlValue? value, IReadOnlyList<CableEnds> ends)
    {
        var entries = read.Named(value, Sentence.Of("a pedestal"));
        if (value is YamlMap && entries.Count == 0)
            read.Wrong(value.At, Sentence.Of("'pedestals' is empty; describe at least one pedestal."));
        var points = ends.Count == 0 || ends.Any(cable => cable.To is null)
            ? null
            : ends.Select(cable => cable.To!).ToHashSet();
        var pedestals = new Dictionary<string, PedestalDefinition>();
        foreach (var entry in entries)
        {
            if (points?.Contains(entry.Key) == false)
                read.Wrong(entry.KeyAt, NoCable(entry.Key, points));
            pedestals.Add(entry.Key, new(entry.Key, _outlets.Read(entry)));
        }
        return pedestals.AsReadOnly();
    }

    static Sentence NoCable(string pedestal, IReadOnlySet<string> points) => Spelling.Nearest(pedestal, points) is { } near
        ? Sentence.Of("No cable leads to the pedestal '{0}'; add a cable with 'to: {0}', or name the pedestal by a cable's end, as '{1}'.", Spelling.Bare(pedestal), near)
        : Sentence.Of("No cable leads to the pedestal '{0}'; add a cable with 'to: {0}', or name the pedestal by a cable's end.", Spelling.Bare(pedestal));

    void CheckFeederBreaker(YamlValue? value, double? breakerAmps, IEnumerable<PedestalDefinition> pedestals)
    {
        var largest = pedestals
            .SelectMany(pedestal => pedestal.Outlets.Values.Select(outlet => (Pedestal: pedestal.Name, Outlet: outlet)))
            .Where(candidate => !double.IsNaN(candidate.Outlet.RatingAmps))
            .OrderByDescending(candidate => candidate.Outlet.RatingAmps)
            .FirstOrDefault();
        if (largest.Outlet is not null && breakerAmps < largest.Outlet.RatingAmps)
        {
            read.Wrong(value!.At, Sentence.Of(
                "The feeder breaker is smaller than the outlet {0} of pedestal {1} behind it; correct one of the two.", largest.Outlet.Name, largest.Pedestal));
        }
    }
}
