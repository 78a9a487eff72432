using CsCheck;
using Farberth.Adapters.Stores.InfluxDb;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

public class PointTests
{
    static readonly Gen<string> GenName = Gen.String[Gen.Char[" ,=\"'azé_-.#\\\n"], 1, 8];
    static readonly Gen<DateTimeOffset> GenTime = Gen.Long[0, TimeSpan.TicksPerDay * 36_500].Select(ticks => DateTimeOffset.UnixEpoch.AddTicks(ticks));

    static readonly Gen<(object Value, FieldText Text)> GenValue = Gen.OneOf(
        Gen.Double.Where(double.IsFinite).Select(number => ((object)number, FieldText.Of(number))),
        Gen.Bool.Select(truth => ((object)truth, FieldText.Of(truth))),
        GenName.Select(text => ((object)text.Replace('\n', ' '), FieldText.Of(text))));

    /// <summary>What line protocol cannot hold in a name is written as "_"; everything else comes back as it was.</summary>
    [Fact]
    public void Whatever_is_written_is_read_back_by_the_published_rules() => Gen
        .Select(GenName, Gen.Select(GenName, GenName).List[0, 4], Gen.Select(GenName, GenValue).List[1, 4], GenTime)
        .Sample((measurement, tags, fields, time) =>
        {
            var line = new Point(measurement, tags, [.. fields.Select(field => (field.Item1, field.Item2.Text))], time).Line();
            Assert.DoesNotContain('\n', line);
            var read = ParsedLine.Of(line);
            Assert.Equal(Writable(measurement), read.Measurement);
            Assert.Equal(tags.Select(tag => (Writable(tag.Item1), Writable(tag.Item2))), read.Tags);
            Assert.Equal(fields.Select(field => (Writable(field.Item1), field.Item2.Value)), read.Fields);
            Assert.Equal((time - DateTimeOffset.UnixEpoch).Ticks * 100, read.Nanoseconds);
        });

    /// <summary>The examples of the published page for special characters, from memory of its wording; the escapes are the rule's own.</summary>
    [Fact]
    public void Spaces_commas_equals_signs_and_quotes_are_escaped_where_they_must_be() => Assert.Equal(
        """my\ measurement\,=,tag\ key=tag\,value\=1 field\=key="say \"\\o/\", please",n=-0.25 1556813561098000100""",
        new Point(
            "my measurement,=", [("tag key", "tag,value=1")], [("field=key", FieldText.Of("say \"\\o/\", please")), ("n", FieldText.Of(-0.25))],
            DateTimeOffset.FromUnixTimeMilliseconds(1556813561098).AddTicks(1)).Line());

    static string Writable(string name) => name.Replace('\\', '_').Replace('\n', '_');
}
