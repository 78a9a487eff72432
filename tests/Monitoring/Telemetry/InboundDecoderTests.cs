using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;
using static Farberth.Monitoring.Tests.Telemetry.TelemetrySite;

namespace Farberth.Monitoring.Tests.Telemetry;

public class InboundDecoderTests
{
    const string ReadingTopic = "pedestal/C12/reading";
    const string Good = """{"time":"2027-07-17T15:04:05.250Z","volts":{"L1":112.3,"L2":113.0},"outlets":{"A":{"amps":{"L1":23.1}}}}""";

    [Fact]
    public void A_payload_of_exactly_64_KiB_is_taken_and_one_byte_more_is_too_large()
    {
        var padded = Good.PadRight(64 * 1024);
        Assert.NotNull(Decode(ReadingTopic, padded).Value);
        var refusal = Assert.Single(Decode(ReadingTopic, padded + " ").Refusals);
        Assert.Equal(RefusalReason.TooLarge, refusal.Reason);
        Assert.Equal(256, refusal.Excerpt.Length);
    }

    [Fact]
    public void A_time_five_minutes_ahead_is_taken_and_one_tick_more_is_refused()
    {
        string At(DateTimeOffset time) => Good.Replace("2027-07-17T15:04:05.250Z", time.ToString("O"), StringComparison.Ordinal);
        var furthest = Now.AddMinutes(5);
        Assert.NotNull(Decode(ReadingTopic, At(furthest)).Value);
        var late = Decode(ReadingTopic, At(furthest.AddTicks(1)));
        Assert.Null(late.Value);
        Assert.Equal(RefusalReason.TimeAhead, Assert.Single(late.Refusals).Reason);
    }

    [Fact]
    public void A_time_with_an_offset_becomes_UTC()
    {
        var value = Decode(ReadingTopic, Good.Replace("15:04:05.250Z", "11:04:05.250-04:00", StringComparison.Ordinal)).Value!;
        Assert.Equal(new DateTimeOffset(2027, 7, 17, 15, 4, 5, 250, TimeSpan.Zero), value.Time);
        Assert.Equal(TimeSpan.Zero, value.Time.Offset);
    }

    [Theory]
    [InlineData("alarm/C.C12.A.overload", "{}")]
    [InlineData("slip/C-23/advice", "")]
    [InlineData("dock/C/state", "not even JSON")]
    [InlineData("dock/C/forecast", "{}")]
    [InlineData("weather", "")]
    [InlineData("pedestal/C12/link", "")]
    [InlineData("slip/C-23/boat", "")]
    public void Own_output_and_cleared_retained_messages_are_ignored(string topic, string payload)
    {
        var decoded = Decode(topic, payload);
        Assert.True(decoded.Ignored);
        Assert.Null(decoded.Value);
        Assert.Empty(decoded.Refusals);
    }

    [Fact]
    public void Another_site_is_ignored() =>
        Assert.True(Decoder().Decode(new WireMessage("farberth/v1/westharbour/weather", "{"u8.ToArray()), Now).Ignored);

    [Theory]
    [InlineData("pedestal/C12/reading/", "{}", RefusalReason.UnknownTopic)]
    [InlineData("pedestal/C12", "{}", RefusalReason.UnknownTopic)]
    [InlineData("", "{}", RefusalReason.UnknownTopic)]
    [InlineData("alarm/a b/acknowledge", "{}", RefusalReason.UnknownTopic)]
    [InlineData("pedestal/C99/reading", Good, RefusalReason.UnknownPedestal)]
    [InlineData("pedestal/C99/link", "{}", RefusalReason.UnknownPedestal)]
    [InlineData("pedestal/c12/reading", Good, RefusalReason.UnknownPedestal)]
    [InlineData("slip/C-99/boat", "{}", RefusalReason.UnknownSlip)]
    [InlineData(ReadingTopic, "", RefusalReason.NotJson)]
    [InlineData(ReadingTopic, Good + "{}", RefusalReason.NotJson)]
    [InlineData(ReadingTopic, "null", RefusalReason.WrongType)]
    [InlineData(ReadingTopic, "[1]", RefusalReason.WrongType)]
    public void What_cannot_be_placed_is_refused_with_its_reason(string topic, string payload, RefusalReason reason)
    {
        var decoded = Decode(topic, payload);
        Assert.Null(decoded.Value);
        Assert.False(decoded.Ignored);
        Assert.Equal(reason, Assert.Single(decoded.Refusals).Reason);
    }

    [Fact]
    public void A_boat_notice_and_an_acknowledgement_are_decoded()
    {
        var time = new DateTimeOffset(2027, 7, 17, 15, 0, 0, TimeSpan.Zero);
        Assert.Equal(new BoatNotice(time, "C-23", true), Decode("slip/C-23/boat", """{"time":"2027-07-17T15:00:00Z","present":true}""").Value);
        Assert.Equal(new Acknowledgement(time, "C.C12.A.overload", "Ada"),
            Decode("alarm/C.C12.A.overload/acknowledge", """{"time":"2027-07-17T15:00:00Z","by":" Ada "}""").Value);
    }

    [Theory]
    [InlineData("""{"time":"2027-07-17T15:00:00Z"}""", RefusalReason.Missing)]
    [InlineData("""{"time":"2027-07-17T15:00:00Z","by":""}""", RefusalReason.OutOfRange)]
    [InlineData("""{"time":"2027-07-17T15:00:00Z","by":"A\u0007"}""", RefusalReason.OutOfRange)]
    [InlineData("""{"time":"2027-07-17T15:00:00","by":"Ada"}""", RefusalReason.WrongType)]
    [InlineData("""{"time":"yesterday","by":"Ada"}""", RefusalReason.WrongType)]
    public void An_acknowledgement_needs_a_time_and_a_name(string payload, RefusalReason reason) =>
        Assert.Equal(reason, Assert.Single(Decode("alarm/x/acknowledge", payload).Refusals).Reason);

    [Fact]
    public void Weather_keeps_what_is_good_of_its_forecast()
    {
        var decoded = Decode("weather", """
            {"time":"2027-07-17T15:00:00Z","celsius":34.1,"humidity":1.2,"forecast":[
              {"time":"2027-07-17T16:00:00Z","celsius":35},{"time":"2027-07-17T17:00:00Z"},7]}
            """);
        var weather = Assert.IsType<Weather>(decoded.Value);
        Assert.Equal(34.1, weather.Celsius);
        Assert.Null(weather.Humidity);
        Assert.Equal(new ForecastHour(new DateTimeOffset(2027, 7, 17, 16, 0, 0, TimeSpan.Zero), 35), Assert.Single(weather.Forecast));
        Assert.Equal([RefusalReason.OutOfRange, RefusalReason.Missing, RefusalReason.WrongType], decoded.Refusals.Select(r => r.Reason));
    }

    [Fact]
    public void A_message_with_thousands_of_faults_lists_a_hundred_and_keeps_its_good_part()
    {
        var many = string.Join(',', Enumerable.Range(0, 3000).Select(i => $"\"x{i}\":{{}}"));
        var decoded = Decode(ReadingTopic, $$$"""{"time":"2027-07-17T15:04:05Z","volts":{"L1":112},"outlets":{"A":{"amps":{"L1":2}},{{{many}}}}}""");
        Assert.Equal(100, decoded.Refusals.Count);
        Assert.Contains("not listed", decoded.Refusals[^1].Detail, StringComparison.Ordinal);
        Assert.Equal(2, Assert.IsType<Reading>(decoded.Value).Outlets["A"].Amps[Leg.L1]);
    }

    [Fact]
    public void A_refusal_holds_no_more_of_a_long_topic_than_it_shows()
    {
        var refusal = Assert.Single(Decode(new string('/', 60_000), "x").Refusals);
        Assert.Equal(Refusal.LongestText, refusal.Topic.Length);
    }
}
