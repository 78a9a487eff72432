using Farberth.Grid.Network;

namespace Farberth.HotAfternoon;

/// <summary>What the people aboard have been asked and mean to do, by outlet and leg. Whoever plays the dock office writes it between steps.</summary>
public sealed class AboardRequests
{
    readonly SortedDictionary<(string Pedestal, string Outlet, Leg Leg), double> wanted = [];

    /// <summary>Amps wanted off this leg; 0 where nothing is.</summary>
    public double On(OutletName outlet, Leg leg) => wanted.GetValueOrDefault((outlet.Pedestal, outlet.Outlet, leg));

    /// <summary>From the next step with somebody aboard on, about so many amps stay off.</summary>
    /// <param name="amps">Infinite: everything that can wait.</param>
    public void Shed(OutletName outlet, Leg leg, double amps) => wanted[(outlet.Pedestal, outlet.Outlet, leg)] = amps;

    /// <summary>Switch on again whatever was switched off.</summary>
    public void Restore(OutletName outlet, Leg leg) => wanted.Remove((outlet.Pedestal, outlet.Outlet, leg));
}
