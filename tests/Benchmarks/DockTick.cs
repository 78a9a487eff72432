using BenchmarkDotNet.Attributes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using static System.FormattableString;

namespace Farberth.Benchmarks;

/// <summary>
/// One tick of one dock, from readings to alarms: 60 pedestals of two outlets, six of which speak each second. 10 s of it go
/// by with each pass over all pedestals; once in sixty ticks the minute's learning is in it.
/// </summary>
[MemoryDiagnoser, MedianColumn]
public class DockTick
{
    const int Pedestals = 60;
    const int EachSecond = 6;

    readonly Random random = new(1);
    DockMonitor monitor = null!;
    DateTimeOffset now = new(2027, 7, 17, 18, 0, 0, TimeSpan.Zero);
    int next;

    [GlobalSetup]
    public void Build()
    {
        var site = SiteFile.Read(Text()).Site ?? throw new InvalidOperationException("the benchmark's site file has mistakes");
        monitor = new DockMonitor(site, site.Docks["T"]);
        for (var tick = 0; tick < 120; tick++)
            Step();
    }

    [Benchmark]
    public DockStep Step()
    {
        now += TimeSpan.FromSeconds(1);
        for (var one = 0; one < EachSecond; one++, next = (next + 1) % Pedestals)
            monitor.Take(Reading($"P{next + 1}"), now);
        return monitor.Step(now);
    }

    Reading Reading(string pedestal) => new(
        now, pedestal, null, new PerLeg(119 + random.NextDouble(), 119 + random.NextDouble(), double.NaN),
        new Dictionary<string, OutletReading>
        {
            ["A"] = new(new PerLeg(2 + 3 * random.NextDouble(), double.NaN, double.NaN), PerLeg.None, null, null, true),
            ["B"] = new(new PerLeg(double.NaN, 2 + 3 * random.NextDouble(), double.NaN), PerLeg.None, null, null, true),
        });

    static string Text() => """
        site: timedcove
        timezone: America/New_York
        supply: 120/240 V single-phase 3-wire
        docks:
          T:
            source: { no-load: 122 V, transformer: { rating: 150 kVA, impedance: 2.5 %, x/r: 1.5 } }
            cables:

        """ + string.Join('\n', Enumerable.Range(1, Pedestals).Select(at => Invariant(
            $"      - {{ from: {(at == 1 ? "source" : $"P{at - 1}")}, to: P{at}, length: 3 m, conductor: 350 kcmil Al, raceway: pvc, sets: 2 }}")))
        + "\n    pedestals:\n" + string.Join('\n', Enumerable.Range(1, Pedestals).Select(at => Invariant(
            $"      P{at}: {{ outlets: {{ A: {{ rating: 30 A, legs: [L1] }}, B: {{ rating: 30 A, legs: [L2] }} }} }}"))) + "\n";
}
