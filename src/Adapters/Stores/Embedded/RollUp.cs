using System.Buffers;
using System.Text;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>The least, the mean and the most of a quantity over a while; <see cref="double.NaN"/> where it was never there.</summary>
public readonly record struct Spread(double Least, double Mean, double Most)
{
    public static readonly Spread None = new(double.NaN, double.NaN, double.NaN);

    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsThere => !double.IsNaN(Mean);
}

/// <summary>A spread as it comes about.</summary>
public struct Spreading
{
    double least, most, sum;
    int count;

    /// <summary>One value; <see cref="double.NaN"/> is none.</summary>
    public void Add(double value) => Add(new Spread(value, value, value));

    /// <summary>A spread of a part of the while, all parts being alike long.</summary>
    public void Add(in Spread one)
    {
        if (!one.IsThere)
            return;
        least = count == 0 ? one.Least : Math.Min(least, one.Least);
        most = count == 0 ? one.Most : Math.Max(most, one.Most);
        sum += one.Mean;
        count++;
    }

    public readonly Spread Spread => count == 0 ? Spread.None : new(least, sum / count, most);
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

    public static RollUp OfReadings(IReadOnlyList<Reading> readings)
    {
        var sums = new Sums();
        foreach (var reading in readings)
        {
            for (var leg = Leg.L1; leg <= Leg.N; leg++)
                sums.Volts[(int)leg].Add(reading.Volts[leg]);
            foreach (var (name, outlet) in reading.Outlets)
                AddOutlet(sums.Outlet(name), reading.Volts, outlet);
        }
        return sums.Of(readings.Count);
    }

    public static RollUp OfMinutes(IReadOnlyList<RollUp> minutes)
    {
        var sums = new Sums();
        foreach (var minute in minutes)
        {
            for (var i = 0; i < VoltColumns; i++)
                sums.Volts[i].Add(minute.Volts[i]);
            foreach (var (name, outlet) in minute.Outlets)
                for (var (i, into) = (0, sums.Outlet(name)); i < OutletColumns; i++)
                    into[i].Add(outlet[i]);
        }
        return sums.Of(minutes.Sum(minute => minute.Readings));
    }

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

    static void AddOutlet(Spreading[] into, in PerLeg volts, OutletReading outlet)
    {
        into[0].Add(outlet.Amps.L1);
        into[1].Add(outlet.Amps.L2);
        into[2].Add(outlet.Amps.L3);
        into[Kilovoltamperes].Add(Sum(volts, outlet.Amps) / 1000);
        into[Kilowatts].Add(Sum(outlet.Watts) / 1000);
        into[Celsius].Add(outlet.Celsius ?? double.NaN);
    }

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

    sealed class Sums
    {
        readonly Dictionary<string, Spreading[]> outlets = [];

        public Spreading[] Volts { get; } = New(VoltColumns);

        public Spreading[] Outlet(string name) => outlets.TryGetValue(name, out var one) ? one : outlets[name] = New(OutletColumns);

        public RollUp Of(int readings) => new(
            readings, Spreads(Volts), outlets.ToDictionary(pair => pair.Key, pair => Spreads(pair.Value)));

        static Spreading[] New(int columns) => new Spreading[columns];

        static IReadOnlyList<Spread> Spreads(Spreading[] made) => Array.ConvertAll(made, one => one.Spread);
    }
}
