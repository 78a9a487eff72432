namespace Farberth.HotAfternoon;

/// <param name="LossWattsPerKelvin">UA of the hull and deck.</param>
/// <param name="JoulesPerKelvin">Heat capacity C of air, linings and furniture.</param>
/// <param name="SolarWatts">Gain through glass and deck at the day's strongest sun.</param>
public sealed record CabinPlan(double LossWattsPerKelvin, double JoulesPerKelvin, double SolarWatts);

/// <summary>The heat balance of the space that one air conditioner cools.</summary>
/// <remarks>
/// C·dT/dt = UA·(T_air − T) + G_sun·s + G_people − Q_cooling, solved exactly over the step with the inputs held:
/// T → T_∞ + (T − T_∞)·exp(−UA·Δt/C), T_∞ = T_air + (G_sun·s + G_people − Q)/UA.
/// G_people = 250 W while somebody is aboard (two persons and their lights; common practice).
/// </remarks>
public sealed class Cabin(CabinPlan plan, double celsius)
{
    const double PeopleWatts = 250;

    public double Celsius { get; private set; } = celsius;

    public void Step(Moment moment, double coolingWatts)
    {
        var gain = plan.SolarWatts * moment.Sky.Sun + (moment.Aboard ? PeopleWatts : 0) - coolingWatts;
        var settled = moment.Sky.Celsius + gain / plan.LossWattsPerKelvin;
        var share = Math.Exp(-plan.LossWattsPerKelvin * moment.Seconds / plan.JoulesPerKelvin);
        Celsius = settled + (Celsius - settled) * share;
    }
}
