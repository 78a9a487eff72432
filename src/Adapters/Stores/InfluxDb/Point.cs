using System.Globalization;
using System.Text;

namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>
/// One point of a time series. The same measurement, tags and time make the same point: written twice, it is there once.
///
/// The text is line protocol as InfluxDB 2 publishes it (docs.influxdata.com/influxdb/v2/reference/syntax/line-protocol): in a
/// measurement comma and space are escaped, in tags and field names the equals sign too, in a text field quote and
/// backslash. It knows no line breaks, and in a name nothing that ends in a backslash, so those are written as "_".
/// </summary>
/// <param name="Tags">In the order of their names, which the database likes best. No value may be empty.</param>
/// <param name="Fields">One or more.</param>
public sealed record Point(
    string Measurement, IReadOnlyList<(string Name, string Value)> Tags, IReadOnlyList<(string Name, FieldText Value)> Fields, DateTimeOffset Time)
{
    const long NanosecondsPerTick = 100;

    public string Line()
    {
        var line = new StringBuilder(160);
        Escape(line, Measurement, ", ");
        foreach (var (name, value) in Tags)
        {
            Escape(line.Append(','), name, ",= ");
            Escape(line.Append('='), value, ",= ");
        }
        var before = ' ';
        foreach (var (name, value) in Fields)
        {
            Escape(line.Append(before), name, ",= ");
            line.Append('=').Append(value.Text);
            before = ',';
        }
        return line.Append(' ').Append((Time - DateTimeOffset.UnixEpoch).Ticks * NanosecondsPerTick).ToString();
    }

    static void Escape(StringBuilder line, string name, string special)
    {
        foreach (var letter in name)
            if (letter is '\\' or '\n' or '\r')
                line.Append('_');
            else if (special.Contains(letter, StringComparison.Ordinal))
                line.Append('\\').Append(letter);
            else
                line.Append(letter);
    }
}

/// <summary>The value of a field as line protocol has it.</summary>
public readonly record struct FieldText(string Text)
{
    /// <param name="value">Finite: the database knows no other numbers.</param>
    public static FieldText Of(double value) => new(value.ToString("R", CultureInfo.InvariantCulture));

    public static FieldText Of(bool value) => new(value ? "true" : "false");

    public static FieldText Of(string value) => new(
        new StringBuilder(value).Replace("\\", "\\\\").Replace("\"", "\\\"").Replace('\n', ' ').Replace('\r', ' ').Insert(0, '"').Append('"').ToString());
}
