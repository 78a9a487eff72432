using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>The appliances that one boat's people have switched off because they were asked to.</summary>
/// <remarks>
/// When they are asked, they look at what draws on that leg and can wait (water heater, air conditioner, galley): the water heater first, then
/// the appliance whose amps come nearest to what is still wanted, until at most a quarter of it is missing (assumed). What they
/// chose stays off until they are told that it is no longer needed. Two-leg appliances count on both of their legs.
/// </remarks>
sealed class SwitchedOff(AboardRequests requests, IReadOnlyList<WiredLoad> loads)
{
    const double LeftUndone = 0.25;

    readonly Dictionary<(OutletName Outlet, Leg Leg), List<WiredLoad>> off = [];

    public bool Has(WiredLoad load) => off.Count > 0 && off.Values.Any(chosen => chosen.Contains(load));

    /// <param name="ampsOf">What each appliance drew in the step before.</param>
    public void Step(bool aboard, Func<WiredLoad, double> ampsOf)
    {
        foreach (var (outlet, leg) in loads.SelectMany(Feeds).Distinct())
        {
            var wantedAmps = requests.On(outlet, leg);
            if (double.IsPositiveInfinity(wantedAmps) && aboard)
                off[(outlet, leg)] = [.. loads.Where(load => load.Load.CanWait && Feeds(load).Contains((outlet, leg)))];
            else if (wantedAmps > 0 && aboard && !off.ContainsKey((outlet, leg)))
                off[(outlet, leg)] = Choose(outlet, leg, wantedAmps, ampsOf);
            else if (wantedAmps <= 0)
                off.Remove((outlet, leg));
        }
    }

    List<WiredLoad> Choose(OutletName outlet, Leg leg, double wantedAmps, Func<WiredLoad, double> ampsOf)
    {
        var chosen = new List<WiredLoad>();
        var left = loads.Where(load => load.Load.CanWait && !Has(load) && Feeds(load).Contains((outlet, leg)) && ampsOf(load) > 0.5).ToList();
        for (var missing = wantedAmps; missing > LeftUndone * wantedAmps && left.Count > 0;)
        {
            var next = left.FirstOrDefault(load => load.Load is WaterHeater) ?? left.MinBy(load => Math.Abs(ampsOf(load) - missing))!;
            chosen.Add(next);
            left.Remove(next);
            missing -= ampsOf(next);
        }
        return chosen;
    }

    static IEnumerable<(OutletName, Leg)> Feeds(WiredLoad load)
    {
        yield return (load.Outlet.Name, (Leg)load.From);
        if (load.Feed.Other is { } other)
            yield return (load.Outlet.Name, other);
    }
}
