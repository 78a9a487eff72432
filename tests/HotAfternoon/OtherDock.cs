using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.HotAfternoon.Tests;

/// <summary>Docks, seasons and boats made up from a seed, that nothing in the engine was set on.</summary>
/// <param name="Supply">As in a site file.</param>
/// <param name="Pedestals">Along a main pier and, from its middle, a side pier with a third of them.</param>
sealed record OtherDock(string Supply, int Pedestals, string From, string Until, double LowCelsius, double HighCelsius)
{
    public static readonly OtherDock[] All =
    [
        new("120/240 V single-phase 3-wire", 14, "08:00", "10:00", 6, 17),
        new("208Y/120 V", 18, "19:00", "21:00", 21, 33),
        new("400Y/230 V", 24, "15:00", "17:00", 23, 38),
        new("230 V single-phase", 10, "16:00", "18:00", 18, 29),
    ];

    public const string Dock = "W";

    bool IsAmerican => Supply.Contains("120", StringComparison.Ordinal);

    int LegCount => Supply.Contains('Y', StringComparison.Ordinal) ? 3 : Supply.Contains("120/240", StringComparison.Ordinal) ? 2 : 1;

    public SiteDefinition Site(int seed)
    {
        var random = new Random(seed);
        var (main, conductor) = (Pedestals - Pedestals / 3, IsAmerican ? "350 kcmil Al" : "150 mm2 Al");
        var cables = Enumerable.Range(1, Pedestals).Select(at => Invariant(
            $"      - {{ from: {(at == 1 ? "source" : at == main + 1 ? $"W{main / 2}" : $"W{at - 1}")}, to: W{at}, length: {(at == 1 ? 35 : 8 + random.Next(10))} m, conductor: {conductor}, raceway: pvc }}"));
        var pedestals = Enumerable.Range(1, Pedestals).Select(at => Invariant(
            $"      W{at}: {{ outlets: {{ A: {{ rating: {(IsAmerican ? 30 : 32)} A, legs: [L{1 + random.Next(LegCount)}] }}, B: {{ rating: {(IsAmerican ? 30 : 16)} A, legs: [L{1 + random.Next(LegCount)}] }} }} }}"));
        var text = Invariant($$"""
            site: otherwhere
            timezone: America/New_York
            supply: {{Supply}}
            docks:
              W:
                source:
                  no-load: {{(IsAmerican ? 121 : 234)}} V
                  transformer: { rating: {{(LegCount == 1 ? 50 : 100)}} kVA, impedance: 3 %, x/r: 1.5 }
                cables:
            
            """) + string.Join('\n', cables) + "\n    pedestals:\n" + string.Join('\n', pedestals) + "\n";
        var read = SiteFile.Read(text);
        Assert.True(read.Mistakes.Count == 0, string.Join("; ", read.Mistakes));
        return read.Site!;
    }

    public Scenario Scenario(int seed)
    {
        var random = new Random(seed + 1);
        var boats = Enumerable.Range(1, Pedestals).SelectMany(at => new[] { "A", "B" }.Where(_ => random.NextDouble() < 0.75).Select(outlet => Boat(random, at, outlet)));
        var text = Invariant($$"""
            scenario: otherwhere
            seed: {{seed}}
            start: 2027-06-05 {{From}}
            end: 2027-06-05 {{Until}}
            weather: { low: {{LowCelsius}} °C, high: {{HighCelsius}} °C, hottest-at: 16:00, dew-point: {{LowCelsius - 3}} °C, every: 10 min }
            feeder: { length-error: 4 %, joint: 0.3 mohm, sun-rise: 8 K }
            meters: { every: 10 s, gain-error: 0.29 %, volts-noise: 0.05 V, amps-noise: 0.05 A, lateness: 300 ms, drop-outs: 0.5 % }
            boats:
            
            """) + string.Join("\n", boats) + "\n";
        var read = HotAfternoon.Scenario.Read(text);
        Assert.True(read.Mistakes.Count == 0, string.Join("; ", read.Mistakes));
        return read.Scenario!;
    }

    static string Boat(Random random, int pedestal, string outlet)
    {
        string[] loads =
        [
            Invariant($"air-conditioner: {{ on: {outlet}, capacity: {3 + random.Next(3)} kW, set: {22 + random.Next(3)} °C }}"),
            Invariant($"water-heater: {{ on: {outlet}, power: 1500 W, when: aboard }}"),
            Invariant($"charger: {{ on: {outlet}, power: {300 + random.Next(500)} W, charge: {60 + random.Next(35)} % }}"),
            Invariant($"refrigerator: {{ on: {outlet}, power: 150 W }}"),
            Invariant($"house: {{ on: {outlet}, power: {100 + random.Next(300)} W }}"),
            Invariant($"galley: {{ on: {outlet}, power: 1200 W, uses-per-hour: {random.Next(1, 4)}, each: 8 min }}"),
        ];
        var chosen = loads.Where(_ => random.NextDouble() < 0.6).DefaultIfEmpty(loads[3]);
        return Invariant($"  - name: boat {pedestal}{outlet}\n    pedestal: W{pedestal}\n    aboard: [07:00-22:00]\n    loads:\n")
            + string.Join('\n', chosen.Select(load => "      - " + load));
    }
}
