using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Alarms.Rules;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Wire;

namespace Farberth.Monitoring.Tests.Forecast;

/// <summary>What is said of a sag that will come.</summary>
public class SagForecastTests
{
    static readonly Quantiles Volts = new([104.9, 105.4, 106.2, 107.1, 107.9, 108.6, 109.2]);

    /// <summary>17:00 in Halifax.</summary>
    static readonly DockAhead Worst = new(
        new(2027, 7, 18, 20, 0, 0, TimeSpan.Zero), 300, new Dictionary<Leg, Quantiles> { [Leg.L1] = Volts }, Volts, "B3", Leg.L2, Volts);

    readonly DockPicture picture = new TestDock().Run(TimeSpan.FromSeconds(1)).Last.Picture;

    [Theory]
    [InlineData(0.49, 0, 1, null)]
    [InlineData(0.51, 0, 1, Priority.Low)]
    [InlineData(0.81, 0, 1, Priority.Medium)]
    [InlineData(0.6, 0.51, 1, Priority.Medium)]
    [InlineData(0.9, 0.9, 0.2, null)]
    public void It_goes_by_the_chance_and_waits_until_its_own_errors_are_known(double chance, double chanceB, double learned, Priority? expected)
    {
        var finding = Judge(chance, chanceB, learned);
        Assert.Equal(expected, finding.IsPast ? finding.Priority : null);
        Assert.Equal("B.sag-forecast", finding.Place.AlarmId(AlarmKind.SagForecast));
    }

    /// <summary>With a deadband of 30 % it goes under 35 %.</summary>
    [Theory, InlineData(0.36, false), InlineData(0.34, true)]
    public void It_does_not_flap(double chance, bool goes) => Assert.Equal(
        goes, Judge(chance, 0, 1).Margin <= -picture.Site.AlarmTimings[AlarmKind.SagForecast].Deadband);

    [Fact]
    public void The_hour_the_pedestal_and_the_chance_are_named()
    {
        var told = Judge(0.72, 0.1, 1).Describe();
        var (message, evidence) = (told.Message, told.Evidence);
        Assert.Contains("72 %", message);
        Assert.Contains("about 17:00, 5 h ahead, at pedestal B3 on L2, to 107.1 V", message);
        Assert.Equal(0.72, (double)evidence["chance"]!);
        Assert.Equal("B3", (string)evidence["pedestal"]!);
        Assert.Equal([104.9, 109.2], new[] { "volts-5", "volts-95" }.Select(name => (double)evidence[name]!));
    }

    [Fact]
    public void Without_a_forecast_it_is_silent() => Assert.False(AlarmRules.All.Single(rule => rule.Kind == AlarmKind.SagForecast)
        .Judge(picture with { Forecast = null }).Single().IsPast);

    [Fact]
    public void The_message_has_the_members_that_others_rely_on()
    {
        var json = JsonNode.Parse(DockForecastJson.Of(Forecast(0.7, 0.1, 1), "B", picture.Site.Limits.Volts))!.AsObject();
        Assert.Equal(["time", "dock", "learned", "sag", "levels", "hours", "outlet-levels", "outlets"], json.Select(member => member.Key));
        Assert.Equal(
            ["limit", "chance", "limit-b", "chance-b", "time", "pedestal", "leg"], json["sag"]!.AsObject().Select(member => member.Key));
        Assert.Equal(
            ["time", "minutes", "pedestal", "leg", "volts", "kva", "amps"], json["hours"]![0]!.AsObject().Select(member => member.Key));
        Assert.Equal(7, json["hours"]![0]!["volts"]!.AsArray().Count);
        Assert.Equal([104.9, 107.1, 109.2], json["outlets"]!["B1"]!["A"]!["L1"]![0]!.AsArray().Select(amps => (double)amps!));
    }

    Finding Judge(double chance, double chanceB, double learned) => AlarmRules.All.Single(rule => rule.Kind == AlarmKind.SagForecast)
        .Judge(picture with { Forecast = Forecast(chance, chanceB, learned) }).Single();

    static DockForecast Forecast(double chance, double chanceB, double learned) => new(
        TestDock.Start, learned, [Worst],
        new Dictionary<OutletKey, OutletForecast>
        {
            [new("B1", "A")] = new(new Dictionary<Leg, IReadOnlyList<Quantiles>> { [Leg.L1] = [Volts] }),
        },
        new(chance, chanceB, Worst));
}
