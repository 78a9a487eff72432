namespace Farberth.HotAfternoon;

/// <summary>Many days made of a scenario's one: weather that differs from day to day, and boats that come and go.</summary>
/// <param name="Days">From midnight of the start's date on.</param>
/// <param name="SpreadKelvin">Standard deviation of a day's temperature about the scenario's.</param>
/// <param name="Persistence">Correlation of one day's weather with the next one's, 0 to 1.</param>
/// <param name="ResidentShare">Of the boats: somebody lives aboard.</param>
/// <param name="WeekenderShare">Of the boats: aboard on most weekends. The others are visitors for some nights.</param>
public sealed record SeasonPlan(
    int Days, double SpreadKelvin, double Persistence, double ResidentShare, double WeekenderShare)
{
    /// <summary>Invented: a marina with some of each.</summary>
    public static readonly SeasonPlan Usual = new(21, 3, 0.6, 0.4, 0.4);

    internal static SeasonPlan Read(YamlMap map)
    {
        var plan = new SeasonPlan(
            (int)Math.Clamp(map.Number("days", Usual.Days), 1, 400),
            map.Amount("spread", Quantity.Kelvin, Usual.SpreadKelvin),
            map.Share("persistence", Usual.Persistence),
            map.Share("residents", Usual.ResidentShare),
            map.Share("weekenders", Usual.WeekenderShare));
        if (plan.ResidentShare + plan.WeekenderShare > 1)
            map.Complain(map.Place, "'residents' and 'weekenders' must not be more than 100 % together.");
        map.Close();
        return plan;
    }
}
