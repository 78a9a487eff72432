namespace Farberth.HotAfternoon;

/// <summary>Reads what the meters do wrong.</summary>
static class MeterReader
{
    public static MeterPlan Meters(YamlMap map)
    {
        var plan = new MeterPlan(
            map.Duration("every", 10),
            map.Share("gain-error", 0),
            map.Amount("volts-noise", Quantity.Volts, 0),
            map.Amount("amps-noise", Quantity.Amps, 0),
            TimeSpan.FromSeconds(map.Amount("lateness", Quantity.Seconds, 0)),
            map.Share("late", 0),
            TimeSpan.FromSeconds(map.Amount("late-by", Quantity.Seconds, 30)),
            map.Share("duplicates", 0),
            map.Share("drop-outs", 0),
            [.. map.Maps("silences").Select(Silence)])
        { WithoutCelsius = [.. map.Items("without-celsius").Select(item => new NoCelsiusPlan(item.ToString(), YamlMap.PlaceOf(item)))] };
        map.Close();
        return plan;
    }

    static SilencePlan Silence(YamlMap map)
    {
        var plan = new SilencePlan(
            map.Text("pedestal"),
            map.Moment("from"),
            map.Moment("until"),
            map.Choice("link", "kept", "lost") == "lost",
            map.Place);
        map.Close();
        return plan;
    }
}
