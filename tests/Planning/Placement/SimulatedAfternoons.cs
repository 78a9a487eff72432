using System.Globalization;
using System.Text;
using Farberth.Grid.Network;
using Farberth.HotAfternoon;
using Farberth.Monitoring.Site;
using Farberth.Planning.Loads;
using Farberth.Planning.Placement;

namespace Farberth.Planning.Tests.Placement;

/// <summary>
/// Plans against the simulator, which knows nothing of the planning: its boats have thermostats, kettles and people, its feeder physics and
/// cable lengths of its own. The same boats lie once as planned and once as they came.
/// </summary>
public class SimulatedAfternoons(ITestOutputHelper output)
{
    static readonly SiteDefinition Site = InventedMarina.Read(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "scenarios", "kestrel-cove.site.yaml")));

    static readonly DateTime Day = new(2027, 7, 17);

    [Theory]
    [InlineData(41)]
    [InlineData(42)]
    public void On_a_hot_afternoon_a_planned_dock_sags_less_by_a_quarter(int seed)
    {
        var (planned, came) = Sags(seed, 22, 5);
        output.WriteLine(FormattableString.Invariant($"seed {seed}: {planned:0.00} V planned, {came:0.00} V as they came, {1 - planned / came:P0} less"));
        Assert.True(planned <= 0.75 * came, $"{planned:0.00} V, as they came {came:0.00} V");
    }

    /// <summary>By hand, as in <see cref="SeasonsTests"/>.</summary>
    [Theory(Explicit = true)]
    [InlineData(51)]
    [InlineData(52)]
    [InlineData(53)]
    [InlineData(54)]
    [InlineData(55)]
    [InlineData(56)]
    public void More_afternoons(int seed)
    {
        var (planned, came) = Sags(seed, 22, 20);
        output.WriteLine(FormattableString.Invariant($"seed {seed}: {planned:0.00} V planned, {came:0.00} V as they came, {1 - planned / came:P0} less"));
    }

    static (double Planned, double Came) Sags(int seed, int guests, double seconds)
    {
        var random = new Random(seed);
        ArrivalList list = new(
            new(Day.AddHours(10), TimeSpan.FromHours(-4)),
            [.. Enumerable.Range(1, guests).Select(number => Guest(number, random))], [], Outdoor.Of(36, 24));
        var planned = InventedMarina.Placed(Site, list, seconds).Placed.ToDictionary(boat => boat.Arrival.Boat.Name, boat => boat.Berth);
        var problem = new PlacementProblem(Site, list);
        var came = new Dictionary<Guest, Berth>();
        foreach (var guest in problem.Guests)
        {
            var free = guest.Berths.Where(berth => !GreedyPlan.Taken(came, guest).Contains(berth.Slip)).ToList();
            came[guest] = free[random.Next(free.Count)];
        }
        return (Sag(list, planned, seed), Sag(list, came.ToDictionary(pair => pair.Key.Boat.Name, pair => pair.Value), seed));
    }

    static Arrival Guest(int number, Random random)
    {
        var isLarge = number % 8 == 0;
        return new(
            new($"Guest{number}", 9, 2.5, 1, [isLarge ? new(50, 2, true) : new Cord(30, 1, true)], isLarge ? 3 : 1 + random.Next(2)),
            new(Day.AddHours(10), TimeSpan.FromHours(-4)), new(Day.AddHours(34), TimeSpan.FromHours(-4)), null, []);
    }

    /// <summary>The lowest true volts of any quarter-hour's mean below the no-load volts.</summary>
    static double Sag(ArrivalList list, Dictionary<string, Berth> berths, int seed)
    {
        var scenario = Scenario.Read(Text(list, berths, seed));
        Assert.Empty(scenario.Mistakes);
        var sums = new Dictionary<(string, Leg, int), (double Sum, int Count)>();
        foreach (var step in new Simulation(scenario.Scenario!, Site).Steps())
            foreach (var pedestal in Site.Docks["H"].Pedestals.Keys)
                foreach (var leg in Site.Supply.Legs)
                {
                    var key = (pedestal, leg, (int)(step.Truth.Local - Day).TotalMinutes / 15);
                    var (sum, count) = sums.GetValueOrDefault(key);
                    sums[key] = (sum + step.Truth.Docks["H"].Volts(pedestal, leg), count + 1);
                }
        return Site.Docks["H"].Source.NoLoadVolts - sums.Values.Min(mean => mean.Sum / mean.Count);
    }

    static string Text(ArrivalList list, Dictionary<string, Berth> berths, int seed)
    {
        var text = new StringBuilder(string.Create(CultureInfo.InvariantCulture, $$"""
            scenario: guests on a hot afternoon
            seed: {{seed}}
            start: 2027-07-17 13:00
            end: 2027-07-17 20:00
            step: 30 s
            weather: { low: 24 °C, high: 36 °C, hottest-at: 16:00, dew-point: 22 °C, sunrise: 05:45, sunset: 20:20, every: 15 min, forecast-error: 0.7 K }
            feeder: { length-error: 3 %, joint: 0.2 mohm, sun-rise: 10 K }
            meters: { every: 60 s, gain-error: 0.2 %, volts-noise: 0.05 V, amps-noise: 0.05 A, lateness: 300 ms, late: 0 %, late-by: 45 s, duplicates: 0 %, drop-outs: 0 % }
            boats:

            """));
        foreach (var arrival in list.Arrivals)
        {
            var outlet = berths[arrival.Boat.Name].Outlets[0];
            text.Append(CultureInfo.InvariantCulture, $"  - name: {arrival.Boat.Name}\n    pedestal: {outlet.Pedestal}\n    aboard: [15:30-20:00]\n    loads:\n");
            for (var unit = 0; unit < arrival.Boat.AirConditioners; unit++)
                text.Append(CultureInfo.InvariantCulture, $"      - air-conditioner: {{ on: {On(outlet, unit)}, capacity: {(arrival.Boat.AirConditioners == 1 ? 12000 : 9000)} Btu/h, set: 23 °C, away: 27 °C }}\n");
            text.Append(CultureInfo.InvariantCulture, $"      - refrigerator: {{ on: {On(outlet, 0)}, power: 140 W }}\n      - house: {{ on: {On(outlet, 1)}, power: 200 W }}\n");
        }
        return text.ToString();
    }

    static string On(BerthOutlet outlet, int turn) => outlet.Outlet.Legs.Count == 1
        ? outlet.Outlet.Name : $"{outlet.Outlet.Name}/{outlet.Outlet.Legs[turn % outlet.Outlet.Legs.Count]}";
}
