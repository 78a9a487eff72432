using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using CsCheck;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Telemetry;

public class RecordingLineTests
{
    static readonly DateTimeOffset At = new(2027, 7, 17, 15, 4, 5, 300, TimeSpan.Zero);

    static readonly Gen<DateTimeOffset> AnyTime = Gen.Long[0, DateTime.MaxValue.Ticks].Select(ticks => new DateTimeOffset(ticks, TimeSpan.Zero));
    static readonly Gen<string> Topic = Gen.Char[' ', '\ud7ff'].Array[1, 40].Select(c => new string(c));

    static readonly Gen<string> Json = Gen.Recursive<string>((depth, inner) => depth > 5
        ? Gen.OneOf(Gen.Double[-1e9, 1e9].Select(d => d.ToString("R")), Gen.OneOf("null", "true", "1e999", "-0", "\"\"", "\"a \\\" : b \\\\\""))
        : Gen.OneOf(
            Gen.Char['\0', '\ud7ff'].Array[0, 8].Select(c => new string(c)).Select(s => JsonSerializer.Serialize(s)),
            Gen.Select(inner, Gen.OneOf(" ", "\n", "\r\n\t")).Array[0, 4].Select(items => "[" + string.Join(',', items.Select(i => i.Item2 + i.Item1)) + "\n]"),
            inner.Array[0, 4].Select(values => "{ " + string.Join(" ,\n", values.Select((value, i) => $"\"m {i}\\n\" : {value}")) + "}")));

    static RecordedMessage Decode(byte[] line) =>
        RecordingLine.TryDecode(line, out var message, out var problem) ? message : throw new InvalidOperationException(problem);

    [Fact]
    public void The_line_is_that_of_the_contract()
    {
        var message = new WireMessage("farberth/v1/eastharbour/weather", "{ \"celsius\" : 34.10 }\n"u8.ToArray());
        Assert.Equal("""{"at":"2027-07-17T15:04:05.3Z","topic":"farberth/v1/eastharbour/weather","payload":{"celsius":34.10}}""",
            Encoding.UTF8.GetString(RecordingLine.Encode(new RecordedMessage(At, message))));
        Assert.Equal("""{"at":"2027-07-17T15:04:05.3Z","topic":"t","payload-base64":"/w=="}""",
            Encoding.UTF8.GetString(RecordingLine.Encode(new RecordedMessage(At, new WireMessage("t", new byte[] { 255 })))));
    }

    /// <summary>Without white space: a JSON payload, which a few random bytes may be ("8 "), leaves that behind.</summary>
    static readonly Gen<byte[]> AnyBytes = Gen.Byte.Array[0, 200].Select(bytes => bytes.Where(b => b is not (9 or 10 or 13 or 32)).ToArray());

    [Fact]
    public void Any_payload_comes_back_as_it_went_in() =>
        Gen.Select(AnyTime, Topic, Gen.OneOf(AnyBytes, Gen.OneOf("online", "{", "\"\\ud800\"", "").Select(Encoding.UTF8.GetBytes)))
            .Sample((at, topic, payload) =>
            {
                var back = Decode(RecordingLine.Encode(new RecordedMessage(at, new WireMessage(topic, payload))));
                return back.At == at && back.Message.Topic == topic && back.Message.Payload.Span.SequenceEqual(payload);
            }, iter: 10_000);

    [Fact]
    public void A_JSON_payload_takes_one_line_and_comes_back_equal() =>
        Json.Sample(text =>
        {
            var line = RecordingLine.Encode(new RecordedMessage(At, new WireMessage("t", Encoding.UTF8.GetBytes(text))));
            var back = Encoding.UTF8.GetString(Decode(line).Message.Payload.Span);
            return !line.Contains((byte)'\n') && line.AsSpan().IndexOf("\"payload\":"u8) > 0 && JsonNode.DeepEquals(JsonNode.Parse(text), JsonNode.Parse(back));
        }, iter: 10_000);

    [Fact]
    public void A_payload_as_deep_as_a_message_may_be_is_still_carried_as_JSON()
    {
        var deep = new string('[', 64) + new string(']', 64);
        var line = RecordingLine.Encode(new RecordedMessage(At, new WireMessage("t", Encoding.UTF8.GetBytes(deep))));
        Assert.Contains("\"payload\":[", Encoding.UTF8.GetString(line), StringComparison.Ordinal);
        Assert.Equal(deep, Encoding.UTF8.GetString(Decode(line).Message.Payload.Span));
    }

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("""{"at":"2027-07-17T15:04:05.3Z","topic":"t","payload":{"cel""")]
    [InlineData("""{"at":"2027-07-17T15:04:05.3","topic":"t","payload":{}}""")]
    [InlineData("""{"at":7,"topic":"t","payload":{}}""")]
    [InlineData("""{"at":"2027-07-17T15:04:05.3Z","topic":["t"],"payload":{}}""")]
    [InlineData("""{"at":"2027-07-17T15:04:05.3Z","topic":"t"}""")]
    [InlineData("""{"at":"2027-07-17T15:04:05.3Z","topic":"t","payload-base64":"?"}""")]
    public void A_damaged_line_says_what_is_wrong(string line)
    {
        Assert.False(RecordingLine.TryDecode(Encoding.UTF8.GetBytes(line), out _, out var problem));
        Assert.NotEqual("", problem);
    }

    [Fact]
    public void Members_that_nobody_knows_are_stepped_over()
    {
        var line = """{"x":{"y":[1,2]},"at":"2027-07-17T11:04:05.3-04:00","qos":1,"topic":"t","payload":[1],"z":"z"}""";
        var back = Decode(Encoding.UTF8.GetBytes(line));
        Assert.Equal(At, back.At);
        Assert.Equal("[1]", Encoding.UTF8.GetString(back.Message.Payload.Span));
    }

    [Fact]
    public void Random_bytes_never_break_the_reader() =>
        Gen.Byte.Array[0, 100].Sample(bytes => RecordingLine.TryDecode(bytes, out _, out var problem) || problem.Length > 0, iter: 10_000);
}
