using Farberth.Grid.Conductors;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Flow;

/// <summary>A dock as its site file describes it, with its cables at stated temperatures, ready for any loads.</summary>
public sealed class DockCase
{
    /// <summary>Assumed where the loads are still open: cables carry half of what they may, so they are a quarter of the way to their rating.</summary>
    const double UsualLoad = 0.5;

    DockCase(SiteDefinition site, DockDefinition dock, double racewayCelsius, double noLoadVolts, Func<CableDefinition, (double, double)> celsius)
    {
        (Site, Dock, RacewayCelsius) = (site, dock, racewayCelsius);
        Feeder = DockFeeder.Build(site, dock, DockFeeder.Equal(site.Supply, noLoadVolts), celsius);
        Limits = DockLimit.Of(site, dock, racewayCelsius);
        LimitBuses = [.. Limits.Select(limit => Feeder.PositionOf(limit.Place))];
    }

    DockCase(DockCase other, Feeder feeder) => (Site, Dock, RacewayCelsius, Limits, LimitBuses, Feeder) =
        (other.Site, other.Dock, other.RacewayCelsius, other.Limits, other.LimitBuses, feeder);

    public SiteDefinition Site { get; }

    public DockDefinition Dock { get; }

    public double RacewayCelsius { get; }

    public Feeder Feeder { get; }

    /// <summary>What the dock must keep; a <see cref="DockFlow"/> has a value for each.</summary>
    public IReadOnlyList<DockLimit> Limits { get; }

    /// <summary>Of each limit its place, as a position in the feeder: a name is looked up a hundred times a flow otherwise.</summary>
    internal IReadOnlyList<int> LimitBuses { get; }

    /// <summary>With cables as warm as half of their ampacity makes them.</summary>
    public static DockCase Usual(SiteDefinition site, DockDefinition dock, double racewayCelsius) =>
        new(site, dock, racewayCelsius, dock.Source.NoLoadVolts, cable => (
            Celsius(cable, cable.Conductor, racewayCelsius, UsualLoad * cable.LegAmpacityAmps(racewayCelsius)),
            Celsius(cable, cable.Neutral, racewayCelsius, UsualLoad * cable.LegAmpacityAmps(racewayCelsius) / 2)));

    /// <summary>With cables as warm as some loads make them after hours.</summary>
    public static DockCase WarmedBy(SiteDefinition site, DockDefinition dock, double racewayCelsius, IReadOnlyCollection<Draw> draws)
    {
        var first = Usual(site, dock, racewayCelsius).Solve(draws).State;
        return new(site, dock, racewayCelsius, dock.Source.NoLoadVolts, cable => (
            Celsius(cable, cable.Conductor, racewayCelsius, site.Supply.Legs.Max(leg => first.AmpsInto(cable.To, leg).Magnitude)),
            Celsius(cable, cable.Neutral, racewayCelsius, first.AmpsInto(cable.To, Leg.N).Magnitude)));
    }

    /// <summary>The same dock with more ohms in single conductors of cables: bad joints.</summary>
    public DockCase With(IEnumerable<(string Cable, Leg Conductor, double Ohms)> joints)
    {
        var more = joints.ToLookup(joint => joint.Cable);
        var branches = Feeder.Branches.Select(branch => branch with
        {
            Impedance = more[branch.To].Aggregate(branch.Impedance, (sum, joint) => sum + ImpedanceMatrix.From(
                (row, column) => row == column && row == joint.Conductor ? joint.Ohms : 0)),
        });
        return new(this, new Feeder(Site.Supply, DockFeeder.OpenCircuit, Feeder.OpenCircuitVolts, branches));
    }

    /// <summary>The volts and amps that these loads bring about.</summary>
    /// <exception cref="KeyNotFoundException">A draw names a pedestal that the dock does not have.</exception>
    public DockFlow Solve(IEnumerable<Draw> draws) => Solve(draws, Feeder);

    /// <param name="noLoadVolts">Behind the transformer, leg to neutral, in place of the site file's.</param>
    public DockFlow Solve(IEnumerable<Draw> draws, double noLoadVolts) =>
        Solve(draws, Feeder.At(DockFeeder.Equal(Site.Supply, noLoadVolts)));

    DockFlow Solve(IEnumerable<Draw> draws, Feeder feeder) => new(this, Sweep.Solve(Loads(draws, feeder)));

    /// <summary>For many flows that differ by one draw.</summary>
    internal LoadSet Loads(IEnumerable<Draw> draws) => Loads(draws, Feeder);

    /// <param name="loads">They stay as they are.</param>
    internal DockFlow Solve(LoadSet loads, Draw more)
    {
        var all = loads.Copy();
        Add(all, more);
        return new(this, Sweep.Solve(all));
    }

    LoadSet Loads(IEnumerable<Draw> draws, Feeder feeder)
    {
        var loads = new LoadSet(feeder);
        foreach (var draw in draws)
            Add(loads, draw);
        return loads;
    }

    /// <summary>Amps answer to the volts by the site's assumed response, about the nominal.</summary>
    void Add(LoadSet loads, Draw draw)
    {
        var (supply, legs, limits) = (Site.Supply, draw.Outlet.Legs, Site.Limits);
        ZipLoad Load(double volts) => ZipLoad.Responding(draw.Amps, limits.PowerFactor, volts, limits.LoadResponse, volts);
        if (OutletPower.IsBetweenLegs(draw.Outlet))
            loads.Add(draw.Pedestal, legs[0], legs[1], Load(supply.NominalVolts * (supply.Direction(legs[0]) - supply.Direction(legs[1])).Magnitude));
        else
            foreach (var leg in legs)
                loads.Add(draw.Pedestal, leg, Load(supply.NominalVolts));
    }

    static double Celsius(CableDefinition cable, Conductor conductor, double racewayCelsius, double amps) => ConductorTemperature.Celsius(
        racewayCelsius, amps, conductor.AmpacityAt30Amps(cable.Rating) * cable.Sets, cable.Rating);
}
