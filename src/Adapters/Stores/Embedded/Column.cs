using System.Buffers;

namespace Farberth.Adapters.Stores.Embedded;

/// <summary>
/// One quantity of many readings. Meters send decimal numbers: v = n / 10^d with whole n and few decimals d. The column
/// takes the smallest d that gives every value back to the last bit, and holds the differences of the n. Division of two
/// exact doubles is rounded like the parsing of the decimal text (IEEE 754), so what comes back is what was parsed. A
/// column that no d fits is held as it is.
/// </summary>
static class Column
{
    const int MostDecimals = 9;
    const byte AsItIs = 0x3F;
    const byte HasGaps = 0x40;
    const byte Empty = 0x80;
    const double LargestWhole = 1L << 53;

    static readonly IReadOnlyList<double> PowersOfTen = [.. Enumerable.Range(0, MostDecimals + 1).Select(d => Math.Pow(10, d))];

    /// <param name="values"><see cref="double.NaN"/> where there is none.</param>
    public static void Write(ArrayBufferWriter<byte> into, ReadOnlySpan<double> values)
    {
        var missing = Missing(values);
        if (missing == values.Length)
        {
            into.WriteByte(Empty);
            return;
        }
        var gaps = missing > 0;
        var decimals = Decimals(values);
        into.WriteByte((byte)((decimals ?? AsItIs) | (gaps ? HasGaps : 0)));
        if (gaps)
            WriteGaps(into, values);
        long before = 0;
        foreach (var value in values)
        {
            if (double.IsNaN(value))
                continue;
            if (decimals is not { } d)
            {
                into.WriteDouble(value);
                continue;
            }
            var whole = (long)Math.Round(value * PowersOfTen[d]);
            into.WriteSigned(whole - before);
            before = whole;
        }
    }

    public static void Read(ref ReadOnlySpan<byte> from, Span<double> values)
    {
        var head = Bits.ReadByte(ref from);
        var decimals = head & AsItIs;
        values.Fill(head == Empty ? double.NaN : 0);
        if ((head & HasGaps) != 0)
            ReadGaps(ref from, values);
        long whole = 0;
        for (var i = 0; i < values.Length; i++)
            if (!double.IsNaN(values[i]))
                values[i] = decimals == AsItIs ? Bits.ReadDouble(ref from) : (whole += Bits.ReadSigned(ref from)) / PowersOfTen[decimals];
    }

    /// <summary>One bit a row, set where there is a value.</summary>
    static void WriteGaps(ArrayBufferWriter<byte> into, ReadOnlySpan<double> values)
    {
        for (var first = 0; first < values.Length; first += 8)
        {
            var bits = 0;
            for (var i = first; i < Math.Min(first + 8, values.Length); i++)
                bits |= double.IsNaN(values[i]) ? 0 : 1 << (i - first);
            into.WriteByte((byte)bits);
        }
    }

    static void ReadGaps(ref ReadOnlySpan<byte> from, Span<double> values)
    {
        for (var first = 0; first < values.Length; first += 8)
        {
            var bits = Bits.ReadByte(ref from);
            for (var i = first; i < Math.Min(first + 8, values.Length); i++)
                values[i] = (bits & 1 << (i - first)) == 0 ? double.NaN : 0;
        }
    }

    static int Missing(ReadOnlySpan<double> values)
    {
        var missing = 0;
        foreach (var value in values)
            if (double.IsNaN(value))
                missing++;
        return missing;
    }

    static byte? Decimals(ReadOnlySpan<double> values)
    {
        byte decimals = 0;
        foreach (var value in values)
            if (!double.IsNaN(value))
                while (!Fits(value, decimals))
                    if (++decimals > MostDecimals)
                        return null;
        // More decimals keep what fewer kept, except where the numbers become too large to be whole.
        foreach (var value in values)
            if (!double.IsNaN(value) && !Fits(value, decimals))
                return null;
        return decimals;
    }

    static bool Fits(double value, int decimals)
    {
        var whole = Math.Round(value * PowersOfTen[decimals]);
        return Math.Abs(whole) < LargestWhole && BitConverter.DoubleToInt64Bits((long)whole / PowersOfTen[decimals]) == BitConverter.DoubleToInt64Bits(value);
    }
}
