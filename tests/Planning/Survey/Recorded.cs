using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Planning.Survey;

namespace Farberth.Planning.Tests.Survey;

/// <summary>An invented dock of four pedestals and readings of it: one a minute, as the test says.</summary>
static class Recorded
{
    public static readonly DateTimeOffset Start = new(2027, 7, 1, 0, 0, 0, TimeSpan.Zero);

    public static readonly SiteDefinition Site = InventedMarina.Read("""
        site: recorded
        timezone: UTC
        supply: 120/240 V single-phase 3-wire
        docks:
          R:
            source: { no-load: 120 V, transformer: { rating: 50 kVA, impedance: 2.5 %, x/r: 1.5 } }
            feeder-breaker: 225 A
            cables:
              - { from: source, to: R1, length: 60 m, conductor: 4/0 AWG Al, raceway: pvc }
              - { from: R1, to: R2, length: 30 m, conductor: 2/0 AWG Al, raceway: pvc }
              - { from: R2, to: R3, length: 30 m, conductor: 2/0 AWG Al, raceway: pvc }
              - { from: R3, to: R4, length: 30 m, conductor: 2/0 AWG Al, raceway: pvc }
            pedestals:
              R1: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 30 A, legs: [L2] } } }
              R2: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 30 A, legs: [L2] } } }
              R3: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 30 A, legs: [L2] } } }
              R4: { outlets: { A: { rating: 30 A, legs: [L1] }, B: { rating: 30 A, legs: [L2] } } }
        limits: { power-factor: 1, load-response: 0 }
        """);

    public static readonly DockDefinition Dock = Site.Docks["R"];

    /// <param name="amps">Of an outlet at a minute; NaN: the pedestal is silent.</param>
    /// <param name="volts">Of every pedestal.</param>
    public static DockHistory Of(int minutes, Func<string, string, int, double> amps, Func<string, double>? volts = null)
    {
        var builder = new HistoryBuilder(Site, Dock);
        for (var minute = 0; minute <= minutes; minute++)
        {
            builder.Take(new Weather(Start.AddMinutes(minute), 31, null, []));
            foreach (var pedestal in Dock.Pedestals.Values.Where(each => !double.IsNaN(amps(each.Name, "A", minute))))
                builder.Take(Reading(pedestal, Start.AddMinutes(minute), volts?.Invoke(pedestal.Name) ?? 120, outlet => amps(pedestal.Name, outlet, minute)));
        }
        return builder.Build();
    }

    public static Reading Reading(PedestalDefinition pedestal, DateTimeOffset time, double volts, Func<string, double> amps) => new(
        time, pedestal.Name, null, new PerLeg(volts, volts, double.NaN),
        pedestal.Outlets.Values.ToDictionary(outlet => outlet.Name, outlet => new OutletReading(
            PerLeg.None.With(outlet.Legs[0], amps(outlet.Name)), PerLeg.None, null, null, true)));
}
