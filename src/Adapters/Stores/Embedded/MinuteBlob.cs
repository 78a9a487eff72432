using System.Buffers;
using System.Text;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>
/// A pedestal's readings of one minute as bytes and back, to the last bit: how many | times | sequence numbers | volts of
/// each leg | how many outlets | for each its name and its columns.
/// </summary>
static class MinuteBlob
{
    // What an outlet's reading says of its breaker, with room for "nothing" and for "the outlet is not in this reading".
    const double Open = 0, Closed = 1, NotSaid = 2;

    const int Volts = (int)Leg.N + 1, Amps = 3, Watts = Amps + Volts, ColumnsOfOutlet = Watts + Volts;

    public static void Write(ArrayBufferWriter<byte> into, IReadOnlyList<Reading> readings, DateTimeOffset minute)
    {
        into.WriteVarint((ulong)readings.Count);
        WriteTimes(into, readings, minute);
        WriteSequence(into, readings);
        var columns = Columns(Volts, readings.Count);
        var outlets = new SortedDictionary<string, double[][]>(StringComparer.Ordinal);
        for (var i = 0; i < readings.Count; i++)
        {
            Set(columns, 0, i, readings[i].Volts);
            foreach (var (name, outlet) in readings[i].Outlets)
            {
                if (!outlets.TryGetValue(name, out var its))
                    outlets[name] = its = Columns(ColumnsOfOutlet, readings.Count);
                Set(its, i, outlet);
            }
        }
        WriteColumns(into, columns);
        into.WriteVarint((ulong)outlets.Count);
        foreach (var (name, its) in outlets)
        {
            var bytes = Encoding.UTF8.GetBytes(name);
            into.WriteVarint((ulong)bytes.Length);
            into.Write(bytes);
            WriteColumns(into, its);
        }
    }

    public static List<Reading> Read(ReadOnlySpan<byte> from, string pedestal, DateTimeOffset minute)
    {
        var count = (int)Bits.ReadVarint(ref from);
        var times = ReadTimes(ref from, count, minute);
        var sequence = ReadSequence(ref from, count);
        var volts = ReadColumns(ref from, count, Volts);
        var outlets = new Dictionary<string, OutletReading>[count];
        for (var i = 0; i < count; i++)
            outlets[i] = [];
        for (var left = (int)Bits.ReadVarint(ref from); left > 0; left--)
        {
            var nameBytes = (int)Bits.ReadVarint(ref from);
            var name = Encoding.UTF8.GetString(from[..nameBytes]);
            from = from[nameBytes..];
            var columns = ReadColumns(ref from, count, ColumnsOfOutlet);
            for (var i = 0; i < count; i++)
                if (!double.IsNaN(columns[0][i]))
                    outlets[i][name] = Outlet(columns, i);
        }
        return [.. Enumerable.Range(0, count).Select(i => new Reading(
            times[i], pedestal, sequence[i], Legs(volts, 0, i), outlets[i]))];
    }

    static double[][] Columns(int columns, int rows)
    {
        var made = new double[columns][];
        for (var i = 0; i < columns; i++)
            Array.Fill(made[i] = new double[rows], double.NaN);
        return made;
    }

    static void Set(double[][] columns, int i, OutletReading outlet)
    {
        columns[0][i] = outlet.Closed is { } closed ? closed ? Closed : Open : NotSaid;
        columns[1][i] = outlet.Celsius ?? double.NaN;
        columns[2][i] = outlet.LeakageMilliamps ?? double.NaN;
        Set(columns, Amps, i, outlet.Amps);
        Set(columns, Watts, i, outlet.Watts);
    }

    static void Set(double[][] columns, int first, int i, in PerLeg values)
    {
        for (var leg = Leg.L1; leg <= Leg.N; leg++)
            columns[first + (int)leg][i] = values[leg];
    }

    static PerLeg Legs(double[][] columns, int first, int i) =>
        new(columns[first][i], columns[first + 1][i], columns[first + 2][i], columns[first + 3][i]);

    static OutletReading Outlet(double[][] columns, int i) => new(
        Legs(columns, Amps, i), Legs(columns, Watts, i),
        Number(columns[1][i]), Number(columns[2][i]), columns[0][i] == NotSaid ? null : columns[0][i] == Closed);

    static double? Number(double value) => double.IsNaN(value) ? null : value;

    static void WriteColumns(ArrayBufferWriter<byte> into, double[][] columns)
    {
        foreach (var column in columns)
            Column.Write(into, column);
    }

    static double[][] ReadColumns(ref ReadOnlySpan<byte> from, int rows, int columns)
    {
        var read = new double[columns][];
        for (var i = 0; i < columns; i++)
            Column.Read(ref from, read[i] = new double[rows]);
        return read;
    }

    /// <summary>Ticks since the minute's start in the largest power of ten that divides them all: milliseconds, for most meters.</summary>
    static void WriteTimes(ArrayBufferWriter<byte> into, IReadOnlyList<Reading> readings, DateTimeOffset minute)
    {
        long unit = 1;
        while (unit < TimeSpan.TicksPerSecond && readings.All(reading => (reading.Time - minute).Ticks % (unit * 10) == 0))
            unit *= 10;
        into.WriteVarint((ulong)unit);
        long before = 0;
        foreach (var reading in readings)
        {
            var since = (reading.Time - minute).Ticks / unit;
            into.WriteSigned(since - before);
            before = since;
        }
    }

    static DateTimeOffset[] ReadTimes(ref ReadOnlySpan<byte> from, int count, DateTimeOffset minute)
    {
        var unit = (long)Bits.ReadVarint(ref from);
        var times = new DateTimeOffset[count];
        long since = 0;
        for (var i = 0; i < count; i++)
            times[i] = minute.AddTicks((since += Bits.ReadSigned(ref from)) * unit);
        return times;
    }

    static void WriteSequence(ArrayBufferWriter<byte> into, IReadOnlyList<Reading> readings)
    {
        long before = 0;
        foreach (var reading in readings)
        {
            into.WriteByte(reading.Seq is null ? (byte)0 : (byte)1);
            if (reading.Seq is not { } seq)
                continue;
            into.WriteSigned(unchecked(seq - before));
            before = seq;
        }
    }

    static long?[] ReadSequence(ref ReadOnlySpan<byte> from, int count)
    {
        var sequence = new long?[count];
        long before = 0;
        for (var i = 0; i < count; i++)
            if (Bits.ReadByte(ref from) != 0)
                sequence[i] = before = unchecked(before + Bits.ReadSigned(ref from));
        return sequence;
    }
}
