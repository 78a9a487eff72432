using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>
/// An invented dock of a dozen pedestals in a row, D1 to D12, each with a boat on it. They speak every 10 s, each at its own second, so
/// that whatever happens is told by one after the other.
/// </summary>
sealed class LongDock
{
    public const int Pedestals = 12;

    static readonly SiteDefinition Site = TestDock.Read($$"""
        site: longreach
        timezone: America/Halifax
        supply: 120/240 V single-phase 3-wire
        docks:
          D:
            source: { no-load: 122 V, transformer: { rating: 75 kVA, impedance: 2.5 %, x/r: 1.5 } }
            cables:
              - { from: source, to: D1, length: 40 m, conductor: 350 kcmil Al, raceway: pvc }
        {{string.Join('\n', Enumerable.Range(2, Pedestals - 1).Select(i => $"      - {{ from: D{i - 1}, to: D{i}, length: 8 m, conductor: 350 kcmil Al, raceway: pvc }}"))}}
            pedestals:
        {{string.Join('\n', Enumerable.Range(1, Pedestals).Select(i => $"      D{i}: {{ outlets: {{ A: {{ rating: 30 A, legs: [L1], slip: S{i} }}, B: {{ rating: 30 A, legs: [L2], slip: S{i} }} }} }}"))}}
        slips:
        {{string.Join('\n', Enumerable.Range(1, Pedestals).Select(i => $"  S{i}: {{ length: 30 ft }}"))}}
        """);

    readonly DockMonitor monitor = new(Site, Site.Docks["D"]);
    readonly PerLeg[] volts = [.. Enumerable.Repeat(Good, Pedestals + 1)];
    readonly bool[] speaks = [.. Enumerable.Repeat(true, Pedestals + 1)];

    public static readonly PerLeg Good = new(120, 120, double.NaN);

    public DateTimeOffset Now { get; private set; } = TestDock.Start;

    public List<AlarmTransition> Transitions { get; } = [];

    public DockStep Last { get; private set; } = null!;

    public IEnumerable<AlarmTransition> Raised => Transitions.Where(transition => transition.IsRaise);

    public IEnumerable<string> Standing => Last.Standing.Where(alarm => alarm.State.IsActive()).Select(alarm => alarm.Id);

    public IEnumerable<Alarm> Suppressed => Last.Standing.Where(alarm => alarm.State == AlarmState.Suppressed);

    /// <summary>From pedestal <paramref name="first"/> to <paramref name="last"/>.</summary>
    public LongDock Volts(double volts1, double volts2, int first, int last = Pedestals)
    {
        for (var i = first; i <= last; i++)
            volts[i] = new(volts1, volts2, double.NaN);
        return this;
    }

    public LongDock Speak(bool speak, int first, int last = Pedestals)
    {
        for (var i = first; i <= last; i++)
            speaks[i] = speak;
        return this;
    }

    public LongDock Hear(Inbound inbound)
    {
        monitor.Take(inbound, Now);
        return this;
    }

    public LongDock Run(double seconds)
    {
        var until = Now.AddSeconds(seconds);
        for (; Now < until; Now = Now.AddSeconds(1))
        {
            for (var i = 1; i <= Pedestals; i++)
                if (speaks[i] && (Now.Second + 7 * i) % 10 == 0)
                    monitor.Take(Reading(i), Now);
            Last = monitor.Step(Now);
            Transitions.AddRange(Last.Transitions);
        }
        return this;
    }

    Reading Reading(int i)
    {
        OutletReading Outlet(Leg leg) => new(PerLeg.None.With(leg, volts[i][leg] > 60 ? 5 : 0), PerLeg.None, null, null, true);
        return new(Now, $"D{i}", null, volts[i], new Dictionary<string, OutletReading> { ["A"] = Outlet(Leg.L1), ["B"] = Outlet(Leg.L2) });
    }
}
