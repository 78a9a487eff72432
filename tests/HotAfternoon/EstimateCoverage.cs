using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// The estimate against the truth of the simulator, whose physics is its own: meters of class 0.5, cable lengths, joints and
/// temperatures that the estimator is not told of.
/// </summary>
public class EstimateCoverage
{
    static readonly SiteDefinition Site = SiteFile.Read(File.ReadAllText("scenarios/kestrel-cove.site.yaml")).Site!;

    /// <summary>Every standard deviation is honest: the 95 % interval holds the truth 93 to 97 % of the time.</summary>
    [Theory]
    [InlineData(0.0)]
    [InlineData(0.1)]
    [InlineData(0.3)]
    public void Ninety_five_percent_intervals_hold_the_truth(double silentShare)
    {
        var errors = Enumerable.Range(1, 6).SelectMany(seed => Errors(seed, silentShare)).ToList();
        var held = errors.Count(error => Math.Abs(error.Volts) <= 1.96 * error.Sd) / (double)errors.Count;
        var rms = Math.Sqrt(errors.Average(error => error.Volts * error.Volts));
        Assert.True(held is >= 0.93 and <= 0.97, $"silent {silentShare}: held {held:P1}, rms {rms:F3} V, mean sd {errors.Average(e => e.Sd):F3} of {errors.Count}");
    }

    static IEnumerable<(double Volts, double Sd)> Errors(int seed, double silentShare)
    {
        var dock = Site.Docks["H"];
        var silent = dock.Pedestals.Keys.Where((_, at) => (at * 7 + seed) % 10 < silentShare * 10).ToHashSet();
        var (monitor, decoder) = (new DockMonitor(Site, dock), new InboundDecoder(Site));
        foreach (var step in new Simulation(Scenario(seed), Site).Steps())
        {
            foreach (var recorded in step.Arrived)
                if (decoder.Decode(recorded.Message, recorded.At).Value is { } inbound && !(inbound is Reading reading && silent.Contains(reading.Pedestal)))
                    monitor.Take(inbound, recorded.At);
            // Every phase of the reporting interval: the second moves on with the minute.
            if (step.Truth.Time.Second != step.Truth.Time.Minute * 7 % 60 || step.Truth.Time.Minute % 3 != 2)
                continue;
            var estimate = monitor.Step(step.Truth.Time).Picture.Estimate;
            foreach (var name in dock.Pedestals.Keys)
                foreach (var leg in Site.Supply.Legs)
                    yield return (estimate.Pedestals[name].Volts[leg] - step.Truth.Docks["H"].Volts(name, leg), estimate.Pedestals[name].VoltsSd[leg]);
        }
    }

    static Scenario Scenario(int seed)
    {
        var text = File.ReadAllText("scenarios/hot-afternoon.scenario.yaml")
            .Replace("seed: 20270717", $"seed: {seed}", StringComparison.Ordinal)
            .Replace("start: 2027-07-17 11:00", "start: 2027-07-17 15:00", StringComparison.Ordinal)
            .Replace("end: 2027-07-17 21:30", "end: 2027-07-17 17:00", StringComparison.Ordinal)
            .Replace("gain-error: 0.2 %", "gain-error: 0.29 %", StringComparison.Ordinal);
        var read = HotAfternoon.Scenario.Read(text);
        Assert.Empty(read.Mistakes);
        return read.Scenario!;
    }
}
