using CsCheck;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Stores.Embedded;

static class HistoryGiven
{
    public static readonly DateTimeOffset Midnight = new(2027, 7, 17, 0, 0, 0, TimeSpan.Zero);

    /// <summary>A pedestal of four 30 A outlets, its numbers as a meter would send them: volts and amps to a tenth.</summary>
    public static Reading Reading(string pedestal, int second, Random random) => new(
        Midnight.AddSeconds(second).AddMilliseconds(random.Next(1000)), pedestal, second,
        PerLeg.None.With(Leg.L1, Tenth(1150 + random.Next(60))).With(Leg.L2, Tenth(1160 + random.Next(60))),
        new[] { "A", "B", "C", "D" }.ToDictionary(name => name, name => new OutletReading(
            PerLeg.None.With(name is "A" or "C" ? Leg.L1 : Leg.L2, Tenth(random.Next(20) + (second / 600 + name[0]) * 7 % 250)), PerLeg.None, null, null, null)));

    static double Tenth(int tenths) => tenths / 10.0;

    /// <summary>Anything that a decoder may hand on.</summary>
    public static Gen<Reading> Any(string pedestal) =>
        from ticks in Gen.OneOf(Gen.Long[0, 200].Select(ms => ms * TimeSpan.TicksPerMillisecond * 997), Gen.Long[0, 3 * TimeSpan.TicksPerMinute])
        from seq in Gen.OneOf(Gen.Const((long?)null), Gen.Long.Select(n => (long?)n), Gen.Long[0, 5].Select(n => (long?)n))
        from volts in Gen.Select(Volt, Volt, Volt, Volt, (a, b, c, n) => new PerLeg(a, b, c, n))
        from outlets in Gen.Select(Gen.OneOf(Gen.Const("A"), Gen.Const("B"), Gen.Const("größer")), Outlet).List[0, 3]
        select new Reading(Midnight.AddTicks(ticks), pedestal, seq, volts,
            outlets.DistinctBy(pair => pair.Item1).ToDictionary(pair => pair.Item1, pair => pair.Item2));

    static Gen<double> Volt => Gen.OneOf(
        Gen.Const(double.NaN), Gen.Int[0, 4000].Select(Tenth), Gen.Int[0, 400_000].Select(n => n / 1000.0), Gen.Double[0, 500], Gen.OneOf(Gen.Const(0.0), Gen.Const(-0.0), Gen.Const(double.Epsilon)));

    static Gen<OutletReading> Outlet =>
        from amps in Gen.Select(Volt, Volt, Volt, (a, b, c) => new PerLeg(a, b, c))
        from watts in Gen.Select(Volt, Volt, Volt, (a, b, c) => new PerLeg(a, -b, c * 1e6))
        from celsius in Gen.Nullable(Gen.Double[-90, 90])
        from leakage in Gen.Nullable(Gen.Int[0, 300].Select(Tenth))
        from closed in Gen.Nullable(Gen.Bool)
        select new OutletReading(amps, watts, celsius, leakage, closed);

    /// <summary>All that a reading says, to the last bit.</summary>
    public static string Written(Reading reading) =>
        $"{reading.Time.UtcTicks} {reading.Pedestal} {reading.Seq} {Bits(reading.Volts)} "
        + string.Join(' ', reading.Outlets.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair =>
            $"{pair.Key}: {Bits(pair.Value.Amps)} {Bits(pair.Value.Watts)} {pair.Value.Celsius:R} {pair.Value.LeakageMilliamps:R} {pair.Value.Closed}"));

    static string Bits(PerLeg values) => string.Join(',', new[] { values.L1, values.L2, values.L3, values.N }
        .Select(value => double.IsNaN(value) ? "-" : BitConverter.DoubleToInt64Bits(value).ToString("X")));
}
