using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>Reads outlets and legs from a mapping.</summary>
static class FeedKeys
{
    /// <summary>
    /// "A", "A/L2" or "A/L1-L2" under the key "on" (left out, outlet A); "when: aboard" and "during: [16:00-17:30]".
    /// </summary>
    public static Feed Feed(this YamlMap map)
    {
        var text = map.MaybeText("on", required: false) ?? "A";
        var place = map.PlaceOfKey("on");
        var parts = text.Split('/');
        Leg?[] legs = parts.Length > 1 ? [.. parts[1].Split('-').Select(ParseLeg)] : [];
        var isUnclear = legs.Any(leg => leg is null or Leg.N) || legs.Distinct().Count() < legs.Length;
        if (parts.Length > 2 || legs.Length > 2 || isUnclear)
            map.Complain(place, $"'on: {text}' is not an outlet with its legs, such as A, A/L2 or A/L1-L2.");
        return new Feed(
            parts[0],
            legs.FirstOrDefault(),
            legs.Skip(1).FirstOrDefault(),
            map.Choice("when", "always", "aboard") == "aboard",
            map.Spans("during"),
            place);
    }

    /// <summary>L1, L2, L3 or N.</summary>
    public static Leg Conductor(this YamlMap map, string key)
    {
        if (map.MaybeText(key) is { } text && ParseLeg(text) is null)
            map.Complain(map.PlaceOfKey(key), $"'{key}: {text}' is not one of L1, L2, L3, N.");
        return ParseLeg(map.MaybeText(key, required: false) ?? "") ?? Leg.L1;
    }

    /// <summary>A pedestal and its outlet, as in "H7.A", under the key "outlet".</summary>
    public static OutletName Outlet(this YamlMap map)
    {
        var text = map.Text("outlet");
        var parts = text.Split('.');
        if (parts.Length == 2)
            return new OutletName(parts[0], parts[1]);
        map.Complain(map.PlaceOfKey("outlet"), $"'outlet: {text}' is not a pedestal and its outlet, as in H7.A.");
        return new OutletName(text, "");
    }

    static Leg? ParseLeg(string text) => text switch
    {
        "L1" => Leg.L1,
        "L2" => Leg.L2,
        "L3" => Leg.L3,
        "N" => Leg.N,
        _ => null,
    };
}
