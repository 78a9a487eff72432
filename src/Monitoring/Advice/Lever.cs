using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Advice;

/// <summary>One leg of one outlet: what a boat on it can switch off.</summary>
/// <param name="Amps">Drawn now.</param>
/// <param name="EssentialAmps">What of it is left alone.</param>
/// <param name="SteadyAmps">Mean of the last minutes: a kettle is over before anybody has switched it off.</param>
sealed record Lever(string Pedestal, OutletDefinition Outlet, Leg Leg, double Amps, double SteadyAmps, double EssentialAmps)
{
    /// <summary>Assumed: as long as somebody takes to do as he is asked.</summary>
    static readonly TimeSpan SteadyFor = TimeSpan.FromMinutes(5);

    public OutletKey Key => new(Pedestal, Outlet.Name);

    public string? Slip => Outlet.Slip;

    public double DiscretionaryAmps => Math.Max(0, Math.Min(Amps, SteadyAmps) - EssentialAmps);

    /// <summary>Every leg of every outlet that is heard; one for an outlet between two legs, whose current is one.</summary>
    public static IReadOnlyList<Lever> Of(DockPicture picture, EssentialBase essential) =>
    [
        .. from pedestal in picture.Image.Pedestals.Values
           from outlet in pedestal.Outlets.Values
           where outlet.Latest is { Closed: not false }
           let isBetween = Estimate.OutletPower.IsBetweenLegs(outlet.Definition)
           from leg in isBetween ? outlet.Definition.Legs.Take(1) : outlet.Definition.Legs
           let amps = isBetween ? Estimate.OutletPower.AmpsBetweenLegs(outlet.Definition, outlet.Latest!) : outlet.Latest!.Amps[leg]
           where double.IsFinite(amps)
           let key = new OutletKey(pedestal.Definition.Name, outlet.Definition.Name)
           select new Lever(key.Pedestal, outlet.Definition, leg, amps, Steady(outlet, leg, amps), essential.Of(key, leg, amps)),
    ];

    static double Steady(OutletImage outlet, Leg leg, double amps) => outlet.Recent.Where(moment => outlet.Recent[^1].Time - moment.Time <= SteadyFor)
        .Select(moment => moment.Outlet.Amps[leg]).Where(double.IsFinite).DefaultIfEmpty(amps).Average();
}
