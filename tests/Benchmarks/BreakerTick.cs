using BenchmarkDotNet.Attributes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Benchmarks;

/// <summary>
/// One second of a dock's breakers: 60 pedestals with two outlets of 30 A, each tenth of them with a new reading. Amps are spread
/// from nothing to 1.15 of the rating, so that a third of the outlets is above the continuous limit.
/// </summary>
[MemoryDiagnoser]
public class BreakerTick
{
    static readonly SiteLimits Limits = RegionDefaults.Limits(SupplySystem.SplitPhase120);

    readonly List<DockImage> images = [];
    BreakerWatch watch = null!;
    DateTimeOffset now = new(2027, 7, 17, 20, 0, 0, TimeSpan.Zero);
    int next;

    [GlobalSetup]
    public void Build()
    {
        OutletDefinition Outlet(string name, Leg leg) => new(name, 30, [leg], true, null);
        var pedestals = Enumerable.Range(1, 60).Select(at => new PedestalDefinition(
            $"P{at}", new[] { Outlet("A", Leg.L1), Outlet("B", Leg.L2) }.ToDictionary(outlet => outlet.Name))).ToDictionary(one => one.Name);
        var dock = new DockDefinition("D", new(122, null, null, 0), null, [], pedestals);
        var site = new SiteDefinition("S", "UTC", SupplySystem.SplitPhase120, new Dictionary<string, DockDefinition> { ["D"] = dock },
            new Dictionary<string, SlipDefinition>(), Limits, RegionDefaults.AlarmTimings);
        watch = new BreakerWatch(site, dock);
        var random = new Random(1);
        var readings = pedestals.Values.ToDictionary(pedestal => pedestal.Name, _ => new OutletReading?[2]);
        var said = new Dictionary<string, DateTimeOffset>();
        for (var second = 0; second < 600; second++)
        {
            foreach (var (at, name) in pedestals.Keys.Index())
                if (second == 0 || at % 10 == second % 10)
                    said[name] = now.AddSeconds(second);
            foreach (var (at, outlets) in pedestals.Keys.Index().ToDictionary(one => one.Index, one => readings[one.Item]))
                for (var outlet = 0; outlet < 2; outlet++)
                    if (second == 0 || at % 10 == second % 10)
                        outlets[outlet] = new(
                            PerLeg.None.With((Leg)outlet, 30 * 1.15 * ((at + 30 * outlet) % 60 / 60.0) * (0.98 + 0.04 * random.NextDouble())),
                            PerLeg.None, null, null, true);
            images.Add(new(now, new(pedestals.ToDictionary(pair => pair.Key, pair => new PedestalImage(
                pair.Value, null, null, TimeSpan.Zero, true, new(pair.Value.Outlets.Values.Select((outlet, at) =>
                    new OutletImage(outlet, null, [new(said[pair.Key], PerLeg.None, readings[pair.Key][at]!)], null, null)).ToDictionary(image => image.Definition.Name))))), null));
        }
    }

    [Benchmark]
    public TripOutlook Tick()
    {
        now += TimeSpan.FromSeconds(1);
        next = (next + 1) % images.Count;
        return watch.Tick(images[next] with { Now = now }, 40)[^1];
    }
}
