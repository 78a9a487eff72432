using Farberth.Grid.Network;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests.Forecast;

/// <summary>
/// Weeks of the demo's dock, a tick every minute and two readings of each pedestal, as seldom as it may send (with one, a third of the
/// pedestals is silent in each minute): days that differ by 3 K and more, a forecast that is 1.2 K off twelve hours ahead, residents,
/// weekenders and visitors, a supply that sags by 2 V in the heat.
/// </summary>
sealed class Weeks
{
    const string Dock = "H";

    public static SiteDefinition Site { get; } = Given.Site("scenarios/kestrel-cove.site.yaml");

    /// <summary>What was said, by the quarter-hour after which it was said; at full hours only.</summary>
    public SortedDictionary<long, DockForecast> Said { get; } = [];

    /// <summary>What came, by the quarter-hour and the name of the quantity: the truth, which no meter has touched.</summary>
    public Dictionary<string, Dictionary<long, double>> Came { get; } = [];

    public static Scenario Scenario(long seed, int days)
    {
        var demo = Given.Scenario("scenarios/hot-afternoon.scenario.yaml");
        return Season.Of(
            demo with
            {
                Seed = seed,
                Step = TimeSpan.FromMinutes(1),
                Weather = demo.Weather with { LowCelsius = 22, HighCelsius = 34, ForecastErrorKelvin = 1.2 },
                Feeder = demo.Feeder with { SupplySagVolts = 2 },
                Meters = demo.Meters with { Every = TimeSpan.FromSeconds(30) },
            },
            SeasonPlan.Usual with { Days = days });
    }

    public static Weeks Run(Scenario scenario, SiteDefinition site)
    {
        var weeks = new Weeks();
        var (decoder, monitor) = (new InboundDecoder(site), new DockMonitor(site, site.Docks[Dock]));
        var quarter = new Dictionary<string, double>();
        foreach (var step in new Simulation(scenario, site).Steps())
        {
            weeks.Add(quarter, step.Truth, site);
            foreach (var message in step.Arrived)
                if (decoder.Decode(message.Message, message.At).Value is { } inbound)
                    monitor.Take(inbound, message.At);
            var now = step.Truth.Time + scenario.Step;
            if (monitor.Step(now).Picture.Forecast is { } forecast && forecast.Time == now && now.Minute == 0)
                weeks.Said[Quarter(now) - 1] = forecast;
        }
        return weeks;
    }

    public static long Quarter(DateTimeOffset at) => at.UtcTicks / TimeSpan.FromMinutes(15).Ticks;

    public static string Name(OutletKey outlet, Leg leg) => $"{outlet.Pedestal}.{outlet.Outlet} {leg}";

    void Add(Dictionary<string, double> sums, Truth truth, SiteDefinition site)
    {
        foreach (var (name, value) in Values(truth.Docks[Dock], site))
            sums[name] = sums.GetValueOrDefault(name) + value / 15;
        if (truth.Time.Minute % 15 != 14)
            return;
        foreach (var (name, mean) in sums)
        {
            Came.TryAdd(name, []);
            Came[name][Quarter(truth.Time)] = mean;
        }
        sums.Clear();
    }

    static IEnumerable<(string, double)> Values(DockTruth dock, SiteDefinition site)
    {
        var (kilovoltAmperes, lowest) = (System.Numerics.Complex.Zero, double.PositiveInfinity);
        var solution = dock.Solution;
        foreach (var leg in site.Supply.Legs)
        {
            kilovoltAmperes += solution.ToNeutral(0, (int)leg) * System.Numerics.Complex.Conjugate(solution.AmpsInto(0, (int)leg)) / 1000;
            yield return ($"amps {leg}", dock.SourceAmps(leg));
        }
        yield return ("kva", kilovoltAmperes.Magnitude);
        foreach (var pedestal in site.Docks[Dock].Pedestals.Values)
        {
            foreach (var leg in site.Supply.Legs)
                lowest = Math.Min(lowest, dock.Volts(pedestal.Name, leg));
            foreach (var outlet in pedestal.Outlets.Values)
                foreach (var leg in outlet.Legs)
                    yield return (Name(new(pedestal.Name, outlet.Name), leg), dock.OutletAmps(new(pedestal.Name, outlet.Name), leg));
        }
        yield return ("volts", lowest);
    }
}
