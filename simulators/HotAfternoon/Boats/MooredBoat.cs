using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>One appliance on its outlet: between which lanes, at which nominal volts.</summary>
public sealed record WiredLoad(
    BoatLoad Load, Feed Feed, ShorePowerOutlet Outlet, int From, int To, double NominalVolts);

/// <summary>One boat with its appliances, while the scenario plays.</summary>
public sealed class MooredBoat
{
    readonly BoatPlan plan;
    readonly IReadOnlyList<WiredLoad> loads;

    /// <param name="outlets">Of the boat's pedestal.</param>
    public MooredBoat(BoatPlan plan, IReadOnlyList<ShorePowerOutlet> outlets, SupplySystem supply, long seed)
    {
        this.plan = plan;
        loads =
        [
            .. plan.Loads.Select((load, index) =>
                Wire(load, outlets, supply, new NamedRandom(seed, "boat", plan.Name, $"{index}"))),
        ];
        Slips = [.. loads.Select(load => load.Outlet.Definition.Slip).OfType<string>().Distinct()];
    }

    /// <summary>The berths whose outlets it uses.</summary>
    public IReadOnlyList<string> Slips { get; }

    public bool IsThere(DateTime local) => plan.IsThere(local);

    /// <summary>Moves the appliances on and adds what they ask for; their volts are those of the step before.</summary>
    public void Step(double seconds, DateTime local, Sky sky, Solution before, ICollection<NodeLoad> asked)
    {
        Leak(local);
        if (!IsThere(local))
            return;
        var aboard = plan.Aboard.Any(span => span.Holds(local));
        var mainOpen = plan.MainOpen.Any(span => span.Holds(local));
        foreach (var wired in loads)
        {
            var energised = wired.Outlet.Closed && !mainOpen && wired.Feed.IsOn(local, aboard);
            var volts = before.Between(wired.Outlet.Node, wired.From, wired.To).Magnitude / wired.NominalVolts;
            var demand = wired.Load.Step(
                new Moment(seconds, local.TimeOfDay.TotalHours, sky, aboard, energised ? volts : 0));
            if (energised && demand != Demand.None)
                asked.Add(new NodeLoad(wired.Outlet.Node, wired.From, wired.To, wired.NominalVolts, demand));
        }
    }

    void Leak(DateTime local)
    {
        if (plan.LeakageAmps is { } amps && loads is [{ Outlet: var outlet }, ..])
            outlet.LeakageAmps = IsThere(local) && outlet.Closed ? amps : 0;
    }

    static WiredLoad Wire(
        LoadPlan load, IReadOnlyList<ShorePowerOutlet> outlets, SupplySystem supply, NamedRandom random)
    {
        var outlet = outlets.First(outlet => outlet.Definition.Name == load.On.Outlet);
        var from = load.On.Leg ?? outlet.Definition.Legs[0];
        var nominal = load.On.Other is { } other
            ? (supply.Direction(from) - supply.Direction(other)).Magnitude * supply.NominalVolts
            : supply.NominalVolts;
        var to = load.On.Other is { } second ? (int)second : supply.Legs.Count;
        return new WiredLoad(load.Start(random), load.On, outlet, (int)from, to, nominal);
    }
}
