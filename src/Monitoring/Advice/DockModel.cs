using System.Numerics;
using Farberth.Grid.LoadFlow;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Advice;

/// <summary>
/// What the dock becomes when boats switch off: the load flow of the estimate, with every outlet answering to its volts as learned.
/// An outlet that draws I at V with I ∝ V^n is the mix of constant impedance z = (1 + n)/2 and constant power p = (1 − n)/2, which has
/// the same amps and the same slope there (−1 ≤ n ≤ 1). In volt-amperes at the nominal V0: Z = z·I·V0²/V, P = p·I·V, each times
/// cos φ + j·sin φ. An amp less of a lever is an amp less of this mix.
/// </summary>
sealed class DockModel
{
    readonly DockPicture picture;
    readonly LoadSet loads;
    readonly ZipLoad[] oneAmp;

    public DockModel(DockPicture picture, IReadOnlyList<Lever> levers)
    {
        (this.picture, Levers) = (picture, levers);
        var feeder = DockFeeder.Build(picture.Site, picture.Dock, picture.Estimate.OpenCircuitVolts, cable =>
            (picture.Estimate.Cables[cable.To].ConductorCelsius, picture.Estimate.Cables[cable.To].ConductorCelsius));
        loads = new LoadSet(feeder);
        var exponents = picture.Outlets.ToDictionary(risk => new OutletKey(risk.Pedestal, risk.Outlet.Name), risk => risk.Response.Exponent);
        oneAmp = [.. levers.Select(lever => OneAmp(lever, exponents.GetValueOrDefault(lever.Key, picture.Site.Limits.LoadResponse)))];
        for (var at = 0; at < levers.Count; at++)
            Add(loads, levers[at], oneAmp[at] * levers[at].Amps);
        Now = Solve(new double[levers.Count]);
    }

    public IReadOnlyList<Lever> Levers { get; }

    /// <summary>Nothing switched off.</summary>
    public LoadFlowState Now { get; }

    /// <param name="shedAmps">By lever; below 0 where something comes back.</param>
    public LoadFlowState Solve(IReadOnlyList<double> shedAmps)
    {
        var left = loads.Scaled(1);
        for (var at = 0; at < Levers.Count; at++)
            if (shedAmps[at] != 0)
                Add(left, Levers[at], oneAmp[at] * -shedAmps[at]);
        return Sweep.Solve(left).State;
    }

    static void Add(LoadSet to, Lever lever, ZipLoad load) => _ = OutletPower.IsBetweenLegs(lever.Outlet)
        ? to.Add(lever.Pedestal, lever.Outlet.Legs[0], lever.Outlet.Legs[1], load)
        : to.Add(lever.Pedestal, lever.Leg, load);

    ZipLoad OneAmp(Lever lever, double exponent)
    {
        var (site, volts) = (picture.Site, picture.Estimate.Pedestals[lever.Pedestal].Volts);
        var supply = site.Supply;
        var between = OutletPower.IsBetweenLegs(lever.Outlet)
            ? (supply.Direction(lever.Outlet.Legs[0]) - supply.Direction(lever.Outlet.Legs[1])).Magnitude : 1;
        var (nominal, v) = (between * supply.NominalVolts, between * volts[lever.Leg]);
        var image = picture.Image.Pedestals[lever.Pedestal];
        var cos = OutletPower.Factor(image.Latest!.Volts, image.Outlets[lever.Outlet.Name].Latest!, lever.Leg, site.Limits);
        var direction = new Complex(cos, Math.Sqrt(1 - cos * cos));
        var n = Math.Clamp(exponent, -1, 1);
        return new((1 + n) / 2 * nominal * nominal / v * direction, 0, (1 - n) / 2 * v * direction);
    }
}
