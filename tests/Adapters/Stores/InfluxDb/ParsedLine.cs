using System.Text;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>
/// A line of line protocol taken apart, letter by letter, by the rules as published and by nothing of the writer:
/// docs.influxdata.com/influxdb/v2/reference/syntax/line-protocol. A backslash escapes comma, space and equals sign in names,
/// quote and backslash in a text; before any other letter it is a letter itself.
/// </summary>
sealed record ParsedLine(string Measurement, IReadOnlyList<(string Name, string Value)> Tags, IReadOnlyList<(string Name, object Value)> Fields, long Nanoseconds)
{
    public static ParsedLine Of(string line)
    {
        var reader = new Letters(line);
        var measurement = reader.Name(", ");
        var (tags, fields) = (new List<(string, string)>(), new List<(string, object)>());
        while (reader.Take(','))
            tags.Add((reader.Named(), reader.Name(", ")));
        reader.Expect(' ');
        do
            fields.Add((reader.Named(), reader.Value()));
        while (reader.Take(','));
        reader.Expect(' ');
        return new(measurement, tags, fields, long.Parse(reader.Rest));
    }

    sealed class Letters(string line)
    {
        int at;

        public string Rest => line[at..];

        public bool Take(char letter)
        {
            if (at >= line.Length || line[at] != letter)
                return false;
            at++;
            return true;
        }

        public void Expect(char letter) => Assert.True(Take(letter), $"'{letter}' is missing at {at} in {line}");

        public string Named()
        {
            var name = Name("=");
            Expect('=');
            return name;
        }

        public string Name(string ends) => Until(ends, ",= ");

        public object Value()
        {
            if (Take('"'))
            {
                var text = Until("\"", "\"\\");
                Expect('"');
                return text;
            }
            var plain = Name(", ");
            return plain is "true" or "false" ? plain == "true" : double.Parse(plain, System.Globalization.CultureInfo.InvariantCulture);
        }

        string Until(string ends, string escapable)
        {
            var text = new StringBuilder();
            for (; at < line.Length && !ends.Contains(line[at], StringComparison.Ordinal); at++)
            {
                if (line[at] == '\\' && at + 1 < line.Length && escapable.Contains(line[at + 1], StringComparison.Ordinal))
                    at++;
                text.Append(line[at]);
            }
            return text.ToString();
        }
    }
}
