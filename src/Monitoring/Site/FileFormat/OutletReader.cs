using Farberth.Grid.Network;
using Farberth.Grid.Protection;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Reads the outlets of a pedestal.</summary>
sealed class OutletReader(ValueReader read, SupplySystem? supply, IReadOnlySet<string>? slips)
{
    static readonly IReadOnlyList<(string, Leg)> EveryLeg = [("L1", Leg.L1), ("L2", Leg.L2), ("L3", Leg.L3)];
    static readonly IReadOnlyList<(string, bool)> Truth = [("true", true), ("false", false)];

    public IReadOnlyDictionary<string, OutletDefinition> Read(YamlEntry pedestal)
    {
        var list = read.Fields(pedestal.Value, SiteKeys.Pedestal)["outlets"];
        var entries = read.Named(list, Sentence.Of("an outlet"));
        if (list is YamlMap && entries.Count == 0)
            read.Wrong(list.At, Sentence.Of("'outlets' is empty; describe at least one outlet."));
        var outlets = new Dictionary<string, OutletDefinition>();
        foreach (var entry in entries)
            outlets.Add(entry.Key, Outlet(entry));
        return outlets.AsReadOnly();
    }

    OutletDefinition Outlet(YamlEntry entry)
    {
        var fields = read.Fields(entry.Value, SiteKeys.Outlet);
        var legs = Legs(fields["legs"]);
        var hasNeutral = read.Choice(fields["neutral"], Truth) ?? true;
        if (!hasNeutral && legs.Count == 1)
        {
            read.Wrong(fields["neutral"]!.At, Sentence.Of("An outlet on one leg needs the neutral for its return; remove 'neutral: false', or give two or three legs."));
        }
        return new(
            entry.Key,
            read.Quantity(fields["rating"], Expected.OutletRating) ?? double.NaN,
            legs,
            hasNeutral,
            Slip(fields["slip"]))
        {
            Breaker = read.Choice(fields["breaker"], BreakerFamilies.Words),
        };
    }

    LegList Legs(YamlValue? value)
    {
        var items = read.List(value, "'[L1]'");
        if (value is YamlList && items.Count == 0)
            read.Wrong(value.At, Sentence.Of("'legs' is empty; write at least one leg, as '[L1]'."));
        var choices = supply is null ? EveryLeg : [.. EveryLeg.Where(leg => supply.Legs.Contains(leg.Item2))];
        var legs = new List<Leg>();
        foreach (var item in items)
        {
            if (read.Choice(item, choices) is not { } leg)
                continue;
            if (legs.Contains(leg))
                read.Wrong(item.At, Sentence.Of("The leg '{0}' is listed twice; remove one.", leg));
            else
                legs.Add(leg);
        }
        return [.. legs];
    }

    string? Slip(YamlValue? value)
    {
        if (read.Name(value) is not { } slip)
            return null;
        if (slips?.Contains(slip) != false)
            return slip;
        var near = Spelling.Nearest(slip, slips);
        read.Wrong(value!.At, near is null ? Sentence.Of("There is no slip '{0}'; add it under 'slips'.", slip)
            : Sentence.Of("There is no slip '{0}'; add it under 'slips', or did you mean '{1}'?", slip, near));
        return null;
    }
}
