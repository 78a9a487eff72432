using static System.FormattableString;

namespace Farberth.Monitoring.Advice;

/// <summary>
/// What amps are on a boat: typical appliances and what they draw. Common practice, assumed; a boater knows his own better.
/// 120 V: a water heater of 1,500 W draws 12.5 A, an air conditioner of 16,000 Btu/h about 11 A.
/// 230 V: a water heater of 1,200 W draws 5.2 A, an air conditioner of the same size about 6 A.
/// </summary>
static class Appliances
{
    static readonly (string Name, double Amps)[] At120Volts =
    [
        ("a water heater", 12), ("an air conditioner", 11), ("a kettle or hot plate", 10), ("a microwave oven", 9),
        ("a battery charger", 5), ("a dehumidifier", 4), ("a second refrigerator or freezer", 2),
    ];

    static readonly (string Name, double Amps)[] At230Volts =
    [
        ("a water heater", 5), ("an air conditioner", 6), ("a kettle", 9), ("a fan heater", 8), ("a microwave oven", 5),
        ("a battery charger", 3), ("a dehumidifier", 2),
    ];

    /// <summary>What one air conditioner of the usual size draws while its compressor runs, A from leg to neutral.</summary>
    public static double AirConditionerAmps(double nominalVolts) =>
        Known(nominalVolts).First(one => one.Name == "an air conditioner").Amps;

    /// <summary>"a microwave oven takes about 9 A, a water heater 12 A".</summary>
    public static string Words(double amps, double nominalVolts)
    {
        var known = Known(nominalVolts);
        var (heater, strongest) = (known[0], known.MaxBy(one => one.Amps));
        if (amps > strongest.Amps + 1)
        {
            var second = known.Skip(1).MinBy(one => Math.Abs(heater.Amps + one.Amps - amps));
            return Invariant($"{heater.Name} takes about {heater.Amps:0} A and {second.Name} {second.Amps:0} A");
        }
        var nearest = known.OrderBy(one => Math.Abs(one.Amps - amps)).ThenBy(one => one.Amps < amps).First();
        return nearest == heater || heater.Amps < amps
            ? Invariant($"{nearest.Name} takes about {nearest.Amps:0} A")
            : Invariant($"{nearest.Name} takes about {nearest.Amps:0} A, {heater.Name} {heater.Amps:0} A");
    }

    static (string Name, double Amps)[] Known(double nominalVolts) => nominalVolts < 170 ? At120Volts : At230Volts;
}
