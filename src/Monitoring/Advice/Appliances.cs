using static System.FormattableString;

namespace Farberth.Monitoring.Advice;

/// <summary>
/// What amps are on a boat: typical appliances and what they draw. Common practice, assumed; a boater knows his own better.
/// 120 V: a water heater of 1,500 W draws 12.5 A, an air conditioner of 16,000 Btu/h about 11 A.
/// 230 V: a water heater of 1,200 W draws 5.2 A, an air conditioner of the same size about 6 A.
/// </summary>
public static class Appliances
{
    static readonly Appliance[] At120Volts =
    [
        new("a water heater", 12), new("an air conditioner", 11), new("a kettle or hot plate", 10), new("a microwave oven", 9),
        new("a battery charger", 5), new("a dehumidifier", 4), new("a second refrigerator or freezer", 2),
    ];

    static readonly Appliance[] At230Volts =
    [
        new("a water heater", 5), new("an air conditioner", 6), new("a kettle", 9), new("a fan heater", 8), new("a microwave oven", 5),
        new("a battery charger", 3), new("a dehumidifier", 2),
    ];

    /// <summary>What one air conditioner of the usual size draws while its compressor runs, A from leg to neutral.</summary>
    public static double AirConditionerAmps(double nominalVolts) =>
        Known(nominalVolts).First(one => one.Name == "an air conditioner").Amps;

    /// <summary>All that is known at these volts, the strongest first.</summary>
    public static IReadOnlyList<Appliance> All(double nominalVolts) => [.. Known(nominalVolts).OrderByDescending(one => one.Amps)];

    /// <summary>The strongest that draws no more than so many amps; null: none does.</summary>
    public static Appliance? Within(double amps, double nominalVolts) =>
        Known(nominalVolts).Where(one => one.Amps <= amps).MaxBy(one => one.Amps);

    /// <summary>
    /// So many amps in things: the nearest one, with a water heater beside it where that takes more; above the strongest a water heater first
    /// and what with it makes the sum.
    /// </summary>
    public static IReadOnlyList<Appliance> About(double amps, double nominalVolts)
    {
        var known = Known(nominalVolts);
        var (heater, strongest) = (known[0], known.MaxBy(one => one.Amps)!);
        if (amps > strongest.Amps + 1)
            return [heater, known.Skip(1).MinBy(one => Math.Abs(heater.Amps + one.Amps - amps))!];
        var nearest = known.OrderBy(one => Math.Abs(one.Amps - amps)).ThenBy(one => one.Amps < amps).First();
        return nearest == heater || heater.Amps < amps ? [nearest] : [nearest, heater];
    }

    /// <summary>"a microwave oven takes about 9 A, a water heater 12 A".</summary>
    internal static string Words(double amps, double nominalVolts) => About(amps, nominalVolts) switch
    {
        [var one] => Invariant($"{one.Name} takes about {one.Amps:0} A"),
        [var heater, var other] when heater == Known(nominalVolts)[0] =>
            Invariant($"{heater.Name} takes about {heater.Amps:0} A and {other.Name} {other.Amps:0} A"),
        var either => Invariant($"{either[0].Name} takes about {either[0].Amps:0} A, {either[1].Name} {either[1].Amps:0} A"),
    };

    static Appliance[] Known(double nominalVolts) => nominalVolts < 170 ? At120Volts : At230Volts;
}

/// <param name="Name">With its article, as "a water heater".</param>
/// <param name="Amps">What it typically draws, A.</param>
public sealed record Appliance(string Name, double Amps);
