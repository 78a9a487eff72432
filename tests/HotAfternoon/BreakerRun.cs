using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests;

/// <summary>A breaker that has really opened.</summary>
/// <param name="OwnMinutes">
/// Before it opened, within the last hour: the first minute with more amps than this breaker holds for ever. The median of the
/// minute counts, so that motors' starts do not. 0 where there was none.
/// </param>
/// <param name="RatingMinutes">Likewise, with more amps than its rating.</param>
sealed record Trip(string Outlet, DateTimeOffset At, int OwnMinutes, int RatingMinutes);

/// <summary>An overload alarm that says that the breaker may open, from when it said so until it returned.</summary>
sealed record TripWarning(string Outlet, DateTimeOffset From, DateTimeOffset Until)
{
    public bool IsBefore(Trip trip, TimeSpan time) =>
        trip.Outlet == Outlet && From <= trip.At - time && Until >= trip.At - time;

    /// <summary>The breaker opened while it stood, or within the hour that it spoke of.</summary>
    public bool CameTrue(Trip trip) =>
        trip.Outlet == Outlet && From <= trip.At && trip.At <= (Until > From.AddHours(1) ? Until : From.AddHours(1));
}

/// <summary>One scenario played through the dock's monitor, with a tick every ten seconds: what opened, and what was said before.</summary>
sealed class BreakerRun
{
    readonly Dictionary<string, Watched> outlets = [];
    readonly Dictionary<string, DateTimeOffset> standing = [];

    public BreakerRun(Scenario scenario, SiteDefinition site)
    {
        var (decoder, monitor) = (new InboundDecoder(site), new DockMonitor(site, site.Docks["H"]));
        foreach (var pedestal in site.Docks["H"].Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
                outlets.Add($"{pedestal.Name}.{outlet.Name}", new(new(pedestal.Name, outlet.Name), outlet, scenario.Seed));
        foreach (var step in new Simulation(scenario, site).Steps())
        {
            var now = step.Truth.Time + scenario.Step;
            foreach (var message in step.Arrived)
                if (decoder.Decode(message.Message, message.At).Value is { } inbound)
                    monitor.Take(inbound, message.At);
            foreach (var (name, outlet) in outlets)
                if (outlet.Step(step.Truth.Docks["H"], now) is { } trip)
                    Trips.Add(trip with { Outlet = name });
            if (now.Second % 10 == 0)
                Hear(monitor.Step(now));
        }
        foreach (var (outlet, from) in standing)
            Warnings.Add(new(outlet, from, DateTimeOffset.MaxValue));
    }

    public List<Trip> Trips { get; } = [];

    public List<TripWarning> Warnings { get; } = [];

    public int OverloadsRaised { get; private set; }

    public IEnumerable<TripWarning> FalseWarnings => Warnings.Where(warning => !Trips.Any(warning.CameTrue));

    public bool IsAnnounced(Trip trip) => Warnings.Any(warning => warning.IsBefore(trip, TimeSpan.FromMinutes(15)));

    void Hear(DockStep step)
    {
        foreach (var (at, from, alarm, _) in step.Transitions.Where(transition => transition.Alarm.Kind == AlarmKind.Overload))
        {
            var outlet = $"{alarm.Place.Pedestal}.{alarm.Place.Outlet}";
            OverloadsRaised += !from.IsActive() && alarm.State.IsActive() ? 1 : 0;
            if (!alarm.State.IsActive() && standing.Remove(outlet, out var since))
                Warnings.Add(new(outlet, since, at));
            else if (alarm.State.IsActive() && alarm.Message.Contains("may open", StringComparison.Ordinal))
                standing.TryAdd(outlet, at);
        }
    }

    /// <summary>One outlet's real amps, minute by minute over the last hour.</summary>
    sealed class Watched(OutletName name, OutletDefinition outlet, long seed)
    {
        readonly double holdsAmps = outlet.RatingAmps
            * OutletBreaker.DrawHolds(BreakerFamily.Ul489, new NamedRandom(seed, "breaker", name.ToString()));

        readonly Queue<double> hour = new();
        readonly List<double> minute = [];
        bool isOpen;

        public Trip? Step(DockTruth truth, DateTimeOffset now)
        {
            minute.Add(outlet.Legs.Max(leg => truth.OutletAmps(name, leg)));
            if (now.Second == 0)
            {
                minute.Sort();
                hour.Enqueue(minute[minute.Count / 2]);
                minute.Clear();
                while (hour.Count > 60)
                    hour.Dequeue();
            }
            if (isOpen || !truth.OpenOutlets.Contains(name.ToString()))
                return null;
            isOpen = true;
            return new("", now, Above(holdsAmps), Above(outlet.RatingAmps));
        }

        int Above(double amps)
        {
            var minutes = hour.ToList();
            var first = minutes.FindIndex(one => one > amps);
            return first < 0 ? 0 : minutes.Count - first;
        }
    }
}
