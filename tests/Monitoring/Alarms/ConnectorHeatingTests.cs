using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>Outlets of 30 A on a hot afternoon; slip S3 has outlet A and outlet B at pedestal B3.</summary>
public class ConnectorHeatingTests
{
    readonly TestDock dock = new();

    public ConnectorHeatingTests() => dock.Hear(new Weather(dock.Now, 36, null, []));

    [Fact]
    public void A_plug_that_warms_more_than_its_amps_explain_is_told_before_it_reaches_its_limit()
    {
        var celsius = 45.0;
        for (var minute = 0; minute < 150 && !Raised.Any(); minute++)
            Carry(25, celsius = Math.Min(celsius + 1, 68 + minute * 0.05)).Run(TimeSpan.FromMinutes(1));
        Assert.InRange(celsius, 55, 74);
        var alarm = Raised.First().Alarm;
        Assert.Equal("B.B3.A.connector-heating", alarm.Id);
        Assert.Equal(Audience.Everybody, alarm.For);
        Assert.True((bool)alarm.Evidence["measured"]!);
        Assert.Equal(75, (double)alarm.Evidence["limit"]!);
        Assert.Equal(celsius, (double)alarm.Evidence["celsius"]!, 1.0);
        Assert.InRange((double)alarm.Evidence["wear-sd"]!, 0.01, 0.4); // 0.51 before anything was measured
    }

    [Fact]
    public void The_message_asks_for_the_second_cord_and_says_how_a_cord_comes_off()
    {
        Carry(27, 78).Run(TimeSpan.FromMinutes(5));
        var alarm = Assert.Single(Raised).Alarm;
        Assert.Contains("bring out the second cord: outlet B of the same slip", alarm.Message);
        Assert.Contains("Switch off at least", alarm.Message);
        Assert.Contains("only after its load is switched off", alarm.Message);
        Assert.Contains("licensed electrician", alarm.Message);
        Assert.Equal((Priority.High, 0, "B"), (alarm.Priority, (int)alarm.Evidence["minutes-to-limit"]!, (string)alarm.Evidence["spare-outlet"]!));
    }

    [Fact]
    public void Where_both_cords_carry_nobody_is_asked_for_a_second()
    {
        Carry(27, 78, other: 9).Run(TimeSpan.FromMinutes(5));
        Assert.DoesNotContain("second cord", Assert.Single(Raised).Alarm.Message);
    }

    [Fact]
    public void A_sound_plug_at_its_continuous_limit_is_left_alone()
    {
        Carry(24, 58).Run(TimeSpan.FromHours(2));
        Assert.Empty(Raised);
    }

    /// <summary>5 A more than the continuous limit, in the heat, and nobody knows how worn the plug is.</summary>
    [Fact]
    public void Without_a_sensor_amps_and_air_are_enough_to_say_that_it_may()
    {
        Carry(29, null).Run(TimeSpan.FromHours(1.5));
        var alarm = Assert.Single(Raised).Alarm;
        Assert.False((bool)alarm.Evidence["measured"]!);
        Assert.True((double)alarm.Evidence["celsius-sd"]! > 5);
        Assert.Contains("by its amps and the air", alarm.Message);
        Assert.Equal(Priority.Medium, alarm.Priority);
    }

    [Fact]
    public void Without_a_sensor_ordinary_amps_say_nothing()
    {
        Carry(22, null).Run(TimeSpan.FromHours(3));
        Assert.Empty(Raised);
    }

    [Fact]
    public void A_compressors_start_in_the_first_reading_makes_no_hot_plug()
    {
        Carry(75, null).Run(TimeSpan.FromSeconds(10));
        Carry(12, null).Run(TimeSpan.FromHours(1));
        Assert.Empty(Raised);
    }

    [Fact]
    public void It_returns_once_the_plug_has_cooled()
    {
        Carry(27, 78).Run(TimeSpan.FromMinutes(5));
        Carry(0, 42).Run(TimeSpan.FromMinutes(40));
        Assert.Equal(AlarmState.ReturnedUnacknowledged, Raised.Last().Alarm.State);
    }

    [Fact]
    public void The_site_file_can_set_its_limits()
    {
        var yaml = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data", "sites", "good-single-phase-230.yaml"));
        Assert.Equal(new ContactLimits(90, 30, 10), TestDock.Read(yaml).Limits.Contacts);
        Assert.Equal(
            new ContactLimits(60, 45, 5), TestDock.Read(yaml + "limits: { contacts: { limit: 140 °F, rise: 45 K, sun-rise: 5 K } }\n").Limits.Contacts with { LimitCelsius = 60 });
    }

    IEnumerable<AlarmTransition> Raised => dock.Of(AlarmKind.ConnectorHeating);

    TestDock Carry(double amps, double? celsius, double other = 0)
    {
        dock.Say("B3", 112, 119, ("A", Leg.L1, amps), ("B", Leg.L2, other));
        var reading = dock.Says["B3"];
        dock.Says["B3"] = reading with
        {
            Outlets = reading.Outlets.ToDictionary(pair => pair.Key, pair => pair.Key == "A" ? pair.Value with { Celsius = celsius } : pair.Value),
        };
        return dock;
    }
}
