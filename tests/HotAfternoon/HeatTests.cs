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

    // UL 498 allows 30 K at rated amps (from memory): sound contacts stay below, some are much better.
    [Fact]
    public void Sound_contacts_at_their_rating_stay_below_what_the_standard_allows() =>
        Assert.InRange(Settled(30, wear: 1) - 35, 15, 28);

    // A balance of watts, solved by hand for wear 2 at 24 A: 3.5·2·0.64·(1 + 0.0039·(T - 20)) = 0.40·(T - T2) = 0.162·(T2 - 35)^1.25.
    [Fact]
    public void Worn_contacts_settle_where_the_watts_balance()
    {
        var celsius = Settled(24, wear: 2);
        var made = 3.5 * 2 * 0.64 * (1 + 0.0039 * (celsius - 20));
        var housing = celsius - made / 0.40;
        Assert.Equal(made, 0.162 * Math.Pow(housing - 35, 1.25), 0.01);
        Assert.InRange(celsius - 35, 1.6 * (Settled(24, wear: 1) - 35), 2.5 * (Settled(24, wear: 1) - 35));
    }

    [Fact]
    public void Contacts_take_a_quarter_to_half_an_hour_and_no_notice_of_the_steps_length()
    {
        var settled = Settled(30, wear: 1) - 35;
        ContactHeat Plug(double seconds, double step)
        {
            var contacts = new ContactHeat(30, 35);
            for (var second = 0.0; second < seconds; second += step)
                contacts.Step(step, 35, 0, 30);
            return contacts;
        }
        Assert.InRange((Plug(900, 1).Celsius - 35) / settled, 0.4, 0.85);
        Assert.InRange((Plug(3600, 1).Celsius - 35) / settled, 0.85, 0.99);
        Assert.Equal(Plug(900, 1).Celsius, Plug(900, 60).Celsius, 0.2);
    }

    [Fact]
    public void The_sun_alone_warms_a_pedestal_by_some_kelvin()
    {
        var contacts = new ContactHeat(30, 35);
        for (var minute = 0; minute < 600; minute++)
            contacts.Step(60, 35, 1, 0);
        Assert.InRange(contacts.Celsius, 40, 46);
    }

    [Fact]
    public void Wear_is_drawn_about_1_with_its_spread()
    {
        double[] logarithms = [.. Enumerable.Range(0, 2000).Select(number => Math.Log(ContactPlan.DrawWear(0.4, new NamedRandom(1, $"{number}"))))];
        Assert.Equal(0, logarithms.Average(), 0.03);
        Assert.Equal(0.4, Math.Sqrt(logarithms.Average(x => x * x)), 0.02);
    }

    static double Settled(double amps, double wear)
    {
        var contacts = new ContactHeat(30, 35, wear);
        for (var minute = 0; minute < 1200; minute++)
            contacts.Step(60, 35, 0, amps);
        return contacts.Celsius;
    }
}
