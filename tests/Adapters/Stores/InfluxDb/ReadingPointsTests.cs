using Farberth.Adapters.Stores.InfluxDb;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>Line by line what a message becomes in the database.</summary>
public class ReadingPointsTests
{
    // 2027-07-17T15:04:05.250Z is 1815836645.25 s after 1970 by date -d.
    const string Time = "2027-07-17T15:04:05.250Z";
    const string Nanoseconds = "1815836645250000000";

    static readonly DateTimeOffset Arrived = DateTimeOffset.Parse("2027-07-17T15:04:06Z");

    readonly ReadingPoints points = new(StoredSite.Definition());

    [Fact]
    public void A_reading_gives_its_volts_by_leg_and_its_outlets_by_leg_and_as_a_whole() => Assert.Equal(
        [
            $"pedestal,dock=G,leg=L1,pedestal=G2,site=gullhaven volts=112.3 {Nanoseconds}",
            $"pedestal,dock=G,leg=L2,pedestal=G2,site=gullhaven volts=113 {Nanoseconds}",
            $"outlet,dock=G,leg=L1,outlet=A,pedestal=G2,site=gullhaven amps=23.1,watts=2470 {Nanoseconds}",
            $"outlet,dock=G,outlet=A,pedestal=G2,site=gullhaven celsius=48.5,leakage_milliamps=2.1,closed=true {Nanoseconds}",
        ],
        Lines("pedestal/G2/reading", $$"""
            { "time": "{{Time}}", "seq": 4711, "volts": { "L1": 112.3, "L2": 113.0 },
              "outlets": { "A": { "amps": { "L1": 23.1 }, "watts": { "L1": 2470 }, "celsius": 48.5, "leakage-ma": 2.1, "closed": true } } }
            """));

    [Fact]
    public void What_an_outlet_does_not_say_is_not_made_up() => Assert.Equal(
        [$"pedestal,dock=G,leg=L1,pedestal=G1,site=gullhaven volts=120 {Nanoseconds}"],
        Lines("pedestal/G1/reading", $$"""{ "time": "{{Time}}", "volts": { "L1": 120 }, "outlets": { "A": {} } }"""));

    [Fact]
    public void Links_and_weather_are_kept_too()
    {
        Assert.Equal(
            [$"link,dock=G,pedestal=G1,site=gullhaven online=false {Nanoseconds}"],
            Lines("pedestal/G1/link", $$"""{"online":false,"time":"{{Time}}"}"""));
        Assert.Equal(
            [$"weather,site=gullhaven celsius=34.1,humidity=0.55 {Nanoseconds}"],
            Lines("weather", $$"""{"time":"{{Time}}","celsius":34.1,"humidity":0.55}"""));
    }

    /// <summary>What the monitor refuses is refused here by the same code; so no message can make a series that the site does not have.</summary>
    [Theory]
    [InlineData("pedestal/G9/reading", """{ "time": "2027-07-17T15:04:05.250Z", "volts": { "L1": 120 } }""")]
    [InlineData("pedestal/G1/reading", """{ "time": "2027-07-17T15:04:05.250Z", "volts": { "L9": 120 } }""")]
    [InlineData("pedestal/G1/reading", """{ "time": "2027-07-17T16:04:05.250Z", "volts": { "L1": 120 } }""")]
    [InlineData("pedestal/G1/reading", "not JSON")]
    [InlineData("alarm/G.G1.A.overload", "{}")]
    public void What_is_refused_makes_no_point(string topic, string payload) => Assert.Empty(Lines(topic, payload));

    IEnumerable<string> Lines(string topic, string payload) => points.Of(StoredSite.Message(Arrived, topic, payload)).Select(point => point.Line());
}
