namespace Farberth.HotAfternoon;

/// <param name="UsesPerHour">At weight 1 of <see cref="HumanHours"/>.</param>
public sealed record GalleyUsePlan(Feed On, double RatedWatts, double UsesPerHour, double MinutesEach) : LoadPlan(On)
{
    public override BoatLoad Start(NamedRandom random) => new GalleyUse(this, random);

    internal static GalleyUsePlan Read(YamlMap map) => new(
        map.Feed(),
        map.Positive("power", Quantity.Watts, 1200),
        map.Number("uses-per-hour", 0.6),
        map.Positive("each", Quantity.Seconds, 480) / 60);
}

/// <summary>A kettle, hot plate, hair dryer or small heater that somebody switches on for a while.</summary>
/// <remarks>
/// Resistive. A use begins at random, UsesPerHour·weight(hour) an hour while somebody is aboard and none is under way,
/// and lasts half to one and a half times MinutesEach (invented figures).
/// </remarks>
public sealed class GalleyUse(GalleyUsePlan plan, NamedRandom random) : BoatLoad
{
    double secondsLeft;

    public override bool CanWait => true;

    public override Demand Step(Moment moment)
    {
        var begins = random.Chance(plan.UsesPerHour * HumanHours.Weight(moment.Hour) * moment.Seconds / 3600);
        var length = 60 * plan.MinutesEach * random.Between(0.5, 1.5);
        secondsLeft -= moment.Seconds;
        if (begins && moment.Aboard && secondsLeft <= 0)
            secondsLeft = length;
        return secondsLeft > 0 && moment.Aboard && moment.Energised ? Demand.Resistive(plan.RatedWatts) : Demand.None;
    }
}
