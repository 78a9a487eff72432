using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Planning.Flow;

namespace Farberth.Planning.Survey;

/// <summary>
/// Gathers readings into quarter-hour means. Each reading holds until the pedestal's next one, but no longer than a reading is fresh; one
/// that comes late or twice changes nothing. Bounded: <see cref="LongestDays"/> of quarters, the first; what comes after is counted.
/// </summary>
public sealed class HistoryBuilder(SiteDefinition site, DockDefinition dock)
{
    public const int LongestDays = 400;

    readonly Dictionary<string, Reading> latest = [];
    readonly SortedDictionary<long, Dictionary<(string Pedestal, string Outlet, Leg Leg), Held>> quarters = [];
    readonly SortedDictionary<long, Held> heat = [];

    /// <summary>Readings that the bound left out.</summary>
    public long Dropped { get; private set; }

    public void Take(Inbound inbound)
    {
        if (inbound is Weather weather && quarters.Count < LongestDays * Quarters.PerDay)
            heat[Quarters.Of(weather.Time)] = Sum(heat.GetValueOrDefault(Quarters.Of(weather.Time)), weather.Celsius, 1);
        if (inbound is not Reading reading || !dock.Pedestals.ContainsKey(reading.Pedestal))
            return;
        if (latest.TryGetValue(reading.Pedestal, out var before) && reading.Time <= before.Time)
            return;
        if (before != null)
            Hold(before, reading.Time);
        latest[reading.Pedestal] = reading;
    }

    public DockHistory Build() => new(dock, [.. quarters.Select(pair => Quarter(pair.Key, pair.Value))]);

    void Hold(Reading reading, DateTimeOffset next)
    {
        var until = next < reading.Time + PedestalImage.FreshFor ? next : reading.Time + PedestalImage.FreshFor;
        for (var from = reading.Time; from < until;)
        {
            var quarter = Quarters.Of(from);
            var end = Quarters.Start(quarter + 1) < until ? Quarters.Start(quarter + 1) : until;
            if (!quarters.TryGetValue(quarter, out var sums))
            {
                if (quarters.Count >= LongestDays * Quarters.PerDay)
                {
                    Dropped++;
                    return;
                }
                quarters[quarter] = sums = [];
            }
            Add(sums, reading, (end - from).TotalSeconds);
            from = end;
        }
    }

    /// <summary>The leg N stands for the current of an outlet between two legs; no outlet's name is empty, so that stands for the volts.</summary>
    void Add(Dictionary<(string, string, Leg), Held> sums, Reading reading, double seconds)
    {
        foreach (var leg in reading.Volts.Legs)
            Add(sums, (reading.Pedestal, "", leg), reading.Volts[leg], seconds);
        foreach (var (name, outlet) in reading.Outlets)
        {
            var definition = dock.Pedestals[reading.Pedestal].Outlets[name];
            var isOpen = outlet.Closed == false;
            if (OutletPower.IsBetweenLegs(definition))
                Add(sums, (reading.Pedestal, name, Leg.N), isOpen ? 0 : OutletPower.AmpsBetweenLegs(definition, outlet), seconds);
            else
                foreach (var leg in definition.Legs.Where(leg => isOpen || outlet.Amps.Has(leg)))
                    Add(sums, (reading.Pedestal, name, leg), isOpen ? 0 : outlet.Amps[leg], seconds);
        }
    }

    static void Add(Dictionary<(string, string, Leg), Held> sums, (string, string, Leg) what, double value, double seconds) =>
        sums[what] = Sum(sums.GetValueOrDefault(what), value, seconds);

    static Held Sum(Held held, double value, double seconds) => new(held.Sum + value * seconds, held.Seconds + seconds);

    HistoryQuarter Quarter(long number, Dictionary<(string Pedestal, string Outlet, Leg Leg), Held> sums)
    {
        var enough = QuarterMean.LeastShare * HistoryQuarter.Length.TotalSeconds;
        var known = sums.Where(pair => pair.Value.Seconds >= enough).ToDictionary(pair => pair.Key, pair => pair.Value.Mean);
        var volts = known.Where(pair => pair.Key.Outlet.Length == 0).GroupBy(pair => pair.Key.Pedestal).ToDictionary(
            pedestal => pedestal.Key, pedestal => pedestal.Aggregate(PerLeg.None, (legs, pair) => legs.With(pair.Key.Leg, pair.Value)));
        List<Draw> draws = [.. known.Where(pair => pair.Key.Outlet.Length > 0).Select(pair => Draw(pair.Key, pair.Value, volts))];
        return new(
            Quarters.Start(number), draws, volts, heat.TryGetValue(number, out var celsius) ? celsius.Mean : double.NaN,
            draws.Sum(draw => draw.Outlet.RatingAmps * draw.Outlet.Legs.Count) / ratedAmps);
    }

    readonly double ratedAmps = dock.Pedestals.Values.SelectMany(pedestal => pedestal.Outlets.Values).Sum(outlet => outlet.RatingAmps * outlet.Legs.Count);

    Draw Draw((string Pedestal, string Outlet, Leg Leg) at, double amps, Dictionary<string, PerLeg> volts)
    {
        var outlet = dock.Pedestals[at.Pedestal].Outlets[at.Outlet];
        var leg = at.Leg == Leg.N ? outlet.Legs[0] : at.Leg;
        var there = volts.TryGetValue(at.Pedestal, out var known) && known.Has(leg) ? known[leg] : site.Supply.NominalVolts;
        return new(at.Pedestal, at.Leg == Leg.N ? outlet : outlet with { Legs = [leg], HasNeutral = true }, DockHistory.AtNominal(site, amps, there));
    }

    readonly record struct Held(double Sum, double Seconds)
    {
        public double Mean => Sum / Seconds;
    }
}
