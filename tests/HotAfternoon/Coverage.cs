using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>One estimated number beside the simulator's.</summary>
readonly record struct Miss(double Error, double Sd)
{
    public bool IsHeld => Math.Abs(Error) <= 1.96 * Sd;
}

/// <summary>How often the 95 % intervals of the estimate hold the simulator's truth.</summary>
sealed class Coverage
{
    public List<Miss> Volts { get; } = [];

    public List<Miss> PedestalAmps { get; } = [];

    public List<Miss> CableAmps { get; } = [];

    /// <summary>Pedestals of which the volts were said not to be determined, of all.</summary>
    public List<bool> Unobserved { get; } = [];

    public static double Held(List<Miss> misses) => misses.Count(miss => miss.IsHeld) / (double)misses.Count;

    public override string ToString() =>
        $"volts {Held(Volts):P1} (rms {Rms(Volts):F3} V, mean sd {Volts.Average(miss => miss.Sd):F3} V, {Volts.Count} values), "
        + $"pedestal amps {Held(PedestalAmps):P1}, cable amps {Held(CableAmps):P1} (rms {Rms(CableAmps):F2} A), volts not determined {Unobserved.Count(one => one) / (double)Unobserved.Count:P1}";

    /// <summary>Takes one simulation, every third minute, at every phase of the reporting interval: the second moves on with the minute.</summary>
    /// <param name="silentShare">Of the pedestals, none of which is ever heard; which ones goes by the seed.</param>
    public Coverage Take(SiteDefinition site, string dockName, Scenario scenario, double silentShare)
    {
        var dock = site.Docks[dockName];
        var silent = dock.Pedestals.Keys.Where((_, at) => (at * 7 + scenario.Seed) % 10 < silentShare * 10).ToHashSet();
        var (monitor, decoder) = (new DockMonitor(site, dock), new InboundDecoder(site));
        foreach (var step in new Simulation(scenario, site).Steps())
        {
            foreach (var recorded in step.Arrived)
                if (decoder.Decode(recorded.Message, recorded.At).Value is { } inbound && !(inbound is Reading reading && silent.Contains(reading.Pedestal)))
                    monitor.Take(inbound, recorded.At);
            if (step.Truth.Time.Second == step.Truth.Time.Minute * 7 % 60 && step.Truth.Time.Minute % 3 == 2)
                Compare(site, dock, monitor.Step(step.Truth.Time).Picture.Estimate, step.Truth.Docks[dockName]);
        }
        return this;
    }

    void Compare(SiteDefinition site, DockDefinition dock, Monitoring.Estimate.DockEstimate estimate, DockTruth truth)
    {
        foreach (var leg in site.Supply.Legs)
        {
            foreach (var name in dock.Pedestals.Keys)
            {
                var found = estimate.Pedestals[name];
                Volts.Add(new(found.Volts[leg] - truth.Volts(name, leg), found.VoltsSd[leg]));
                PedestalAmps.Add(new(found.Amps[leg] - truth.PedestalAmps(name, leg), found.AmpsSd[leg]));
            }
            foreach (var cable in dock.Cables)
                CableAmps.Add(new(estimate.Cables[cable.To].Amps[leg] - truth.CableAmps(cable.To, leg), estimate.Cables[cable.To].AmpsSd[leg]));
        }
        foreach (var name in dock.Pedestals.Keys)
            Unobserved.Add(estimate.Unobserved.Any(one => one.Pedestal == name && one.Volts));
    }

    public void Add(Coverage other)
    {
        Volts.AddRange(other.Volts);
        PedestalAmps.AddRange(other.PedestalAmps);
        CableAmps.AddRange(other.CableAmps);
        Unobserved.AddRange(other.Unobserved);
    }

    static double Rms(List<Miss> misses) => Math.Sqrt(misses.Average(miss => miss.Error * miss.Error));
}
