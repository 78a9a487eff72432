namespace Farberth.HotAfternoon.Tests;

public class HeatTests
{
    // NEC table 310.16, 75 °C column: its ampacity is what brings the conductor to 75 °C in surroundings of 30 °C.
    [Fact]
    public void A_cable_at_its_ampacity_in_30_degrees_settles_at_75()
    {
        var heat = new CableHeat(250, 30);
        for (var minute = 0; minute < 600; minute++)
            heat.Step(60, 30, 250);
        Assert.Equal(75, heat.Celsius, 0.01);
    }

    [Fact]
    public void A_cable_takes_its_time_constant_to_go_63_percent_of_the_way()
    {
        var heat = new CableHeat(250, 30);
        for (var second = 0; second < 1500; second++)
            heat.Step(1, 30, 250);
        Assert.Equal(30 + 45 * (1 - Math.Exp(-1)), heat.Celsius, 0.001);
    }

    // IEC 60228: aluminium gains 0.403 % for each kelvin above 20 °C.
    [Fact]
    public void A_warm_cable_has_more_ohms_and_a_joint_adds_its_own()
    {
        var wire = new Wire(0.0002, 0.0001, 0.00403);
        var plan = new FeederPlan(0, 0.001, 10, [new JointPlan("P1", Grid.Network.Leg.N, 0.004, default)], []);
        var cable = new FeederCable(new CableRun("source", "P1", 100, wire, wire, 200), 3, plan, 30, Given.Random());
        Assert.Equal(100 * 0.0002 * 1.0403 + 0.001, cable.Ohms(0, default).Real, 9);
        Assert.Equal(0.005 - 0.001, cable.Ohms(2, default).Real - cable.Ohms(0, default).Real, 9);
        Assert.Equal(0.01, cable.Ohms(0, default).Imaginary, 9);
    }

    [Fact]
    public void A_length_error_is_drawn_once_and_has_the_stated_spread()
    {
        var wire = new Wire(0.0002, 0, 0.00393);
        var run = new CableRun("source", "P1", 100, wire, wire, 200);
        var plan = new FeederPlan(0.05, 0, 0, [], []);
        double[] errors = [.. Enumerable.Range(0, 2000).Select(number =>
            new FeederCable(run, 2, plan, 20, new NamedRandom(1, $"{number}")).Ohms(0, default).Real / 0.02 - 1)];
        Assert.Equal(0, errors.Average(), 0.006);
        Assert.Equal(0.05, Math.Sqrt(errors.Average(error => error * error)), 0.004);
    }

    [Fact]
    public void Contacts_at_their_rating_warm_by_30_kelvin()
    {
        var contacts = new ContactHeat(30, 35);
        for (var minute = 0; minute < 600; minute++)
            contacts.Step(60, 35, 30);
        Assert.Equal(65, contacts.Celsius, 0.01);
    }
}
