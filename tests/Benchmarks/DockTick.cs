using BenchmarkDotNet.Attributes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using static System.FormattableString;

namespace Farberth.Benchmarks;

/// <summary>
/// One tick of one dock, all of it: six readings arrive, the inbox freezes, and it goes from the estimate over learning, risk, forecast and
/// rules to the alarms and the advice. 60 pedestals of two outlets with slips, watts and temperatures; every tenth carries more than it may
/// for hours, so that alarms stand and boaters are asked. What comes once in ten seconds (advice), in a minute (learning) and in a quarter
/// of an hour (forecast) is in it with its share.
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
        for (var tick = 0; tick < 3 * 3600; tick++)
            Step();
        var last = Step();
        Console.WriteLine(Invariant($"// {last.Standing.Count} alarms stand, {last.Advice.Standing.Count} boats are asked, the forecast is {(last.Picture.Forecast == null ? "missing" : "there")}"));
    }

    [Benchmark]
    public DockStep Step()
    {
        now += TimeSpan.FromSeconds(1);
        if (now.Minute % 15 == 0 && now.Second == 0)
            monitor.Take(new Weather(now, 34, 0.5, [new(now.AddHours(1), 35), new(now.AddHours(6), 28)]), now);
        for (var one = 0; one < EachSecond; one++, next = (next + 1) % Pedestals)
            monitor.Take(Reading(next + 1), now);
        return monitor.Step(now);
    }

    Reading Reading(int pedestal)
    {
        var amps = pedestal % 10 == 0 ? 26 : 5;
        return new(
            now, $"P{pedestal}", null, new PerLeg(119 + random.NextDouble(), 119 + random.NextDouble(), double.NaN),
            new Dictionary<string, OutletReading> { ["A"] = Outlet(Leg.L1, amps), ["B"] = Outlet(Leg.L2, 5) });
    }

    OutletReading Outlet(Leg leg, double mean)
    {
        var amps = mean * (0.8 + 0.4 * random.NextDouble());
        return new(PerLeg.None.With(leg, amps), PerLeg.None.With(leg, 115 * amps), 40 + random.NextDouble(), null, true);
    }

    static string Text() => """
        site: timedcove
        timezone: America/New_York
        supply: 120/240 V single-phase 3-wire
        docks:
          T:
            source: { no-load: 122 V, transformer: { rating: 150 kVA, impedance: 2.5 %, x/r: 1.5 } }
            cables:

        """ + string.Join('\n', Each(at => Invariant(
            $"      - {{ from: {(at == 1 ? "source" : $"P{at - 1}")}, to: P{at}, length: 3 m, conductor: 350 kcmil Al, raceway: pvc, sets: 2 }}")))
        + "\n    pedestals:\n" + string.Join('\n', Each(at => Invariant(
            $"      P{at}: {{ outlets: {{ A: {{ rating: 30 A, legs: [L1], slip: A{at} }}, B: {{ rating: 30 A, legs: [L2], slip: B{at} }} }} }}")))
        + "\nslips:\n" + string.Join('\n', Each(at => Invariant($"  A{at}: {{ length: 34 ft }}\n  B{at}: {{ length: 34 ft }}"))) + "\n";

    static IEnumerable<string> Each(Func<int, string> line) => Enumerable.Range(1, Pedestals).Select(line);
}
