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
    readonly SwitchedOff switchedOff;
    readonly double[] amps;

    /// <param name="outlets">Of the boat's pedestal.</param>
    /// <param name="requests">What its people have been asked.</param>
    public MooredBoat(BoatPlan plan, IReadOnlyList<ShorePowerOutlet> outlets, SupplySystem supply, long seed, AboardRequests requests)
    {
        this.plan = plan;
        loads =
        [
            .. plan.Loads.Select((load, index) =>
                Wire(load, outlets, supply, new NamedRandom(seed, "boat", plan.Name, $"{index}"))),
        ];
        switchedOff = new(requests, loads);
        amps = new double[loads.Count];
        Slips = [.. loads.Select(load => load.Outlet.Definition.Slip).OfType<string>().Distinct()];
    }

    /// <summary>The berths whose outlets it uses.</summary>
    public IReadOnlyList<string> Slips { get; }

    /// <summary>What can be switched off on request now, A, by outlet and leg; nothing while nobody is aboard.</summary>
    public IEnumerable<(OutletName Outlet, Leg Leg, double Amps)> CanShed(DateTime local) => !IsThere(local) || !plan.Aboard.Any(span => span.Holds(local))
        ? [] : loads.Index().Where(load => load.Item.Load.CanWait && !switchedOff.Has(load.Item) && load.Item.Feed.Other is null)
            .Select(load => (load.Item.Outlet.Name, (Leg)load.Item.From, amps[load.Index]));

    public bool IsThere(DateTime local) => plan.IsThere(local);

    /// <summary>Moves the appliances on and adds what they ask for; their volts are those of the step before.</summary>
    public void Step(double seconds, DateTime local, Sky sky, Solution before, ICollection<NodeLoad> asked)
    {
        Leak(local);
        if (!IsThere(local))
            return;
        var aboard = plan.Aboard.Any(span => span.Holds(local));
        var mainOpen = plan.MainOpen.Any(span => span.Holds(local));
        switchedOff.Step(aboard, load => amps[IndexOf(load)]);
        for (var at = 0; at < loads.Count; at++)
        {
            var wired = loads[at];
            var energised = wired.Outlet.Closed && !mainOpen && wired.Feed.IsOn(local, aboard) && !switchedOff.Has(wired);
            var volts = before.Between(wired.Outlet.Node, wired.From, wired.To).Magnitude / wired.NominalVolts;
            var demand = wired.Load.Step(
                new Moment(seconds, local.TimeOfDay.TotalHours, sky, aboard, energised ? volts : 0));
            amps[at] = energised && volts > 0 ? demand.At(volts).Magnitude / (volts * wired.NominalVolts) : 0;
            if (energised && demand != Demand.None)
                asked.Add(new NodeLoad(wired.Outlet.Node, wired.From, wired.To, wired.NominalVolts, demand, wired.Load.CanWait));
        }
    }

    int IndexOf(WiredLoad load)
    {
        for (var at = 0; at < loads.Count; at++)
            if (ReferenceEquals(loads[at], load))
                return at;
        throw new ArgumentException("not an appliance of this boat", nameof(load));
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
