namespace Farberth.HotAfternoon;

/// <summary>Reads the boats. A new kind of load is one class and one line in <see cref="Kinds"/>.</summary>
static class BoatReader
{
    static readonly IReadOnlyDictionary<string, Func<YamlMap, LoadPlan>> Kinds =
        new SortedDictionary<string, Func<YamlMap, LoadPlan>>(StringComparer.Ordinal)
        {
            ["air-conditioner"] = AirConditionerPlan.Read,
            ["charger"] = BatteryChargerPlan.Read,
            ["galley"] = GalleyUsePlan.Read,
            ["house"] = HouseUsePlan.Read,
            ["refrigerator"] = RefrigeratorPlan.Read,
            ["water-heater"] = WaterHeaterPlan.Read,
        };

    public static BoatPlan Boat(YamlMap map)
    {
        var plan = new BoatPlan(
            map.Text("name"),
            map.Text("pedestal"),
            map.MaybeMoment("arrives"),
            map.MaybeMoment("leaves"),
            map.Spans("aboard"),
            map.Spans("main-open"),
            map.Has("leakage") ? map.Amount("leakage", Quantity.Amps) : null,
            [.. map.WordedMaps("loads").Select(item => Load(item.Word, item.Map)).OfType<LoadPlan>()],
            map.Place);
        if (!map.Has("loads"))
            map.Complain(map.Place, "'loads' is missing.");
        map.Close();
        return plan;
    }

    static LoadPlan? Load(string word, YamlMap map)
    {
        if (!Kinds.TryGetValue(word, out var read))
        {
            map.Complain(map.Place, $"'{word}' is no kind of load; there are {string.Join(", ", Kinds.Keys)}.");
            return null;
        }
        var plan = read(map);
        map.Close();
        return plan;
    }
}
