using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests;

/// <summary>An invented dock of three pedestals and a way to talk to its monitor second by second.</summary>
sealed class TestDock
{
    public static readonly DateTimeOffset Start = new(2027, 7, 17, 18, 0, 0, TimeSpan.Zero);

    public static readonly SiteDefinition Site = Read("""
        site: marshpoint
        timezone: America/Halifax
        supply: 120/240 V single-phase 3-wire
        docks:
          B:
            source: { no-load: 122 V, transformer: { rating: 50 kVA, impedance: 2.5 %, x/r: 1.5 } }
            feeder-breaker: 225 A
            cables:
              - { from: source, to: B1, length: 60 m, conductor: 4/0 AWG Al, raceway: pvc }
              - { from: B1, to: B2, length: 40 m, conductor: 1/0 AWG Al, raceway: pvc }
              - { from: B2, to: B3, length: 40 m, conductor: 1/0 AWG Al, raceway: pvc }
            pedestals:
              B1: { outlets: { A: { rating: 30 A, legs: [L1], slip: S1 }, B: { rating: 30 A, legs: [L2], slip: S1 } } }
              B2: { outlets: { A: { rating: 30 A, legs: [L1], slip: S2 }, B: { rating: 50 A, legs: [L1, L2], slip: S2 } } }
              B3: { outlets: { A: { rating: 30 A, legs: [L1], slip: S3 }, B: { rating: 30 A, legs: [L2], slip: S3 } } }
        slips: { S1: { length: 30 ft }, S2: { length: 45 ft }, S3: { length: 30 ft } }
        alarms:
          overload: { raise-after: 60 s, clear-after: 30 s, deadband: 5 % }
        """);

    public DockDefinition Definition { get; } = Site.Docks["B"];

    public DockMonitor Monitor { get; } = new(Site, Site.Docks["B"]);

    public DateTimeOffset Now { get; private set; } = Start;

    /// <summary>What every pedestal says until told otherwise: 120 V, nothing drawn.</summary>
    public Dictionary<string, Reading> Says { get; } = Site.Docks["B"].Pedestals.Keys.ToDictionary(name => name, name => Reading(name, 120, 120));

    public List<AlarmTransition> Transitions { get; } = [];

    public DockStep Last { get; private set; } = null!;

    public static SiteDefinition Read(string yaml)
    {
        var result = SiteFile.Read(yaml);
        Assert.Empty(result.Mistakes);
        return result.Site!;
    }

    public static Reading Reading(string pedestal, double volts1, double volts2, params (string Outlet, Leg Leg, double Amps)[] draws) => new(
        Start, pedestal, null, new PerLeg(volts1, volts2, double.NaN),
        Site.Docks["B"].Pedestals[pedestal].Outlets.Values.ToDictionary(outlet => outlet.Name, outlet => new OutletReading(
            outlet.Legs.Aggregate(PerLeg.None, (amps, leg) => amps.With(
                leg, draws.Where(draw => draw.Outlet == outlet.Name && draw.Leg == leg).Sum(draw => draw.Amps))),
            PerLeg.None, null, null, true)));

    public TestDock Say(string pedestal, double volts1, double volts2, params (string Outlet, Leg Leg, double Amps)[] draws)
    {
        Says[pedestal] = Reading(pedestal, volts1, volts2, draws);
        return this;
    }

    public TestDock Hear(Inbound inbound)
    {
        Monitor.Take(inbound, Now);
        return this;
    }

    /// <summary>Lets time pass: a tick each second, a reading of every pedestal each ten.</summary>
    public TestDock Run(TimeSpan time)
    {
        var until = Now + time;
        for (; Now < until; Now += TimeSpan.FromSeconds(1))
        {
            if (Now.Second % 10 == 0)
                foreach (var reading in Says.Values)
                    Monitor.Take(reading with { Time = Now }, Now);
            Last = Monitor.Step(Now);
            Transitions.AddRange(Last.Transitions);
        }
        return this;
    }

    public IEnumerable<AlarmTransition> Of(AlarmKind kind) => Transitions.Where(transition => transition.Alarm.Kind == kind);
}
