using System.Buffers;
using System.Text;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>The least, the mean and the most of a quantity over a while; <see cref="double.NaN"/> where it was never there.</summary>
public readonly record struct Spread(double Least, double Mean, double Most)
{
    public static readonly Spread None = new(double.NaN, double.NaN, double.NaN);

    public bool IsThere => !double.IsNaN(Mean);

    internal static Spread Of<T>(IEnumerable<T> rows, Func<T, Spread> each)
    {
        var (least, most, sum, count) = (double.PositiveInfinity, double.NegativeInfinity, 0.0, 0);
        foreach (var row in rows)
            if (each(row) is { IsThere: true } one)
                (least, most, sum, count) = (Math.Min(least, one.Least), Math.Max(most, one.Most), sum + one.Mean, count + 1);
        return count == 0 ? None : new Spread(least, sum / count, most);
    }

    internal static Spread Of<T>(IEnumerable<T> rows, Func<T, double> each) =>
        Of(rows, row => each(row) is var value && double.IsNaN(value) ? None : new Spread(value, value, value));
}

/// <summary>
/// What a pedestal's readings of a while come to. A minute's mean is that of its readings; a quarter of an hour's is
/// that of its minutes, so that a minute with many readings does not count for more than one with few. The mean over 15
/// minutes is what the trade calls the demand.
/// </summary>
/// <param name="Volts">Of L1, L2, L3 and N.</param>
/// <param name="Outlets">By name: amps of L1, L2, L3, then kVA, kW, °C.</param>
sealed record RollUp(int Readings, IReadOnlyList<Spread> Volts, IReadOnlyDictionary<string, IReadOnlyList<Spread>> Outlets)
{
    public const int Kilovoltamperes = 3, Kilowatts = 4, Celsius = 5;
    const int VoltColumns = 4, OutletColumns = 6;

    public static RollUp OfReadings(IReadOnlyList<Reading> readings) => new(
        readings.Count,
        [.. Enumerable.Range(0, VoltColumns).Select(leg => Spread.Of(readings, reading => reading.Volts[(Leg)leg]))],
        Names(readings.Select(reading => reading.Outlets.Keys)).ToDictionary(name => name, name => OfOutlet(readings, name)));

    public static RollUp OfMinutes(IReadOnlyList<RollUp> minutes) => new(
        minutes.Sum(minute => minute.Readings),
        [.. Enumerable.Range(0, VoltColumns).Select(leg => Spread.Of(minutes, minute => minute.Volts[leg]))],
        Names(minutes.Select(minute => minute.Outlets.Keys)).ToDictionary(name => name, name => (IReadOnlyList<Spread>)
            [.. Enumerable.Range(0, OutletColumns).Select(column => Spread.Of(
                minutes, minute => minute.Outlets.TryGetValue(name, out var outlet) ? outlet[column] : Spread.None))]));

    public void Write(ArrayBufferWriter<byte> into)
    {
        into.WriteVarint((ulong)Readings);
        into.WriteVarint((ulong)Outlets.Count);
        var names = Outlets.Keys.Order(StringComparer.Ordinal).ToList();
        foreach (var name in names)
        {
            var bytes = Encoding.UTF8.GetBytes(name);
            into.WriteVarint((ulong)bytes.Length);
            into.Write(bytes);
        }
        var spreads = Volts.Concat(names.SelectMany(name => Outlets[name])).ToArray();
        Column.Write(into, [.. spreads.Select(spread => spread.Least)]);
        Column.Write(into, [.. spreads.Select(spread => spread.Mean)]);
        Column.Write(into, [.. spreads.Select(spread => spread.Most)]);
    }

    public static RollUp Read(ReadOnlySpan<byte> from)
    {
        var readings = (int)Bits.ReadVarint(ref from);
        var names = new string[(int)Bits.ReadVarint(ref from)];
        for (var i = 0; i < names.Length; i++)
        {
            var length = (int)Bits.ReadVarint(ref from);
            names[i] = Encoding.UTF8.GetString(from[..length]);
            from = from[length..];
        }
        var count = VoltColumns + names.Length * OutletColumns;
        var (least, mean, most) = (new double[count], new double[count], new double[count]);
        Column.Read(ref from, least);
        Column.Read(ref from, mean);
        Column.Read(ref from, most);
        var spreads = least.Select((_, i) => new Spread(least[i], mean[i], most[i])).ToArray();
        return new(readings, spreads[..VoltColumns], names.Select((name, i) => (name, at: VoltColumns + i * OutletColumns)).ToDictionary(
            outlet => outlet.name, outlet => (IReadOnlyList<Spread>)spreads[outlet.at..(outlet.at + OutletColumns)]));
    }

    static IReadOnlyList<Spread> OfOutlet(IReadOnlyList<Reading> readings, string name)
    {
        var rows = readings.Where(reading => reading.Outlets.ContainsKey(name)).Select(reading => (reading.Volts, Outlet: reading.Outlets[name])).ToList();
        return
        [
            Spread.Of(rows, row => row.Outlet.Amps.L1),
            Spread.Of(rows, row => row.Outlet.Amps.L2),
            Spread.Of(rows, row => row.Outlet.Amps.L3),
            Spread.Of(rows, row => Thousandth(Sum(row.Volts, row.Outlet.Amps))),
            Spread.Of(rows, row => Thousandth(Sum(row.Outlet.Watts))),
            Spread.Of(rows, row => row.Outlet.Celsius ?? double.NaN),
        ];
    }

    static double Thousandth(double value) => value / 1000;

    // Each leg's volts are to neutral, so that the legs' products add up, also where the outlet has no neutral.
    static double Sum(PerLeg volts, PerLeg amps) =>
        Sum(new PerLeg(volts.L1 * amps.L1, volts.L2 * amps.L2, volts.L3 * amps.L3));

    static double Sum(PerLeg values)
    {
        var sum = double.NaN;
        for (var leg = Leg.L1; leg <= Leg.L3; leg++)
            if (values.Has(leg))
                sum = (double.IsNaN(sum) ? 0 : sum) + values[leg];
        return sum;
    }

    static IEnumerable<string> Names(IEnumerable<IEnumerable<string>> keys) => keys.SelectMany(names => names).Distinct();
}
