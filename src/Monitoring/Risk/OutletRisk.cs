using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>How near one outlet is to its limits, on the leg that carries most.</summary>
/// <param name="ContinuousAmps">What it may carry for hours.</param>
/// <param name="Volts">Measured where fresh, else computed; of <paramref name="Leg"/>.</param>
/// <param name="SagAmps">The part of <paramref name="Amps"/> that is there because volts are missing to the nominal; below 0 for a heater.</param>
/// <param name="AmpsOneVoltLower">What the amps become if the dock sags by another volt.</param>
/// <param name="Response">Learned from this outlet, from the site's assumed one on.</param>
public sealed record OutletRisk(
    string Pedestal,
    OutletDefinition Outlet,
    Leg Leg,
    double Amps,
    double ContinuousAmps,
    double Volts,
    double SagAmps,
    double AmpsOneVoltLower,
    LearnedResponse Response)
{
    /// <summary>How warm its plug and receptacle get; null before it is known.</summary>
    public ContactRisk? Contact { get; init; }

    /// <summary>Amps still free below the continuous limit; below 0 when it is passed.</summary>
    public double HeadroomAmps => ContinuousAmps - Amps;

    /// <summary>How near its breaker is to opening.</summary>
    public required TripOutlook Trip { get; init; }

    /// <summary>Of every outlet that has been heard from.</summary>
    public static IReadOnlyList<OutletRisk> Of(
        SiteDefinition site, DockImage image, DockEstimate estimate, DockLearned learned,
        IReadOnlyDictionary<OutletKey, ContactRisk> contacts, IReadOnlyDictionary<OutletKey, TripOutlook> trips) =>
    [
        .. from pedestal in image.Pedestals.Values
           from outlet in pedestal.Outlets.Values
           where outlet.Latest != null && outlet.Latest.Amps.Legs.Any()
           let key = new OutletKey(pedestal.Definition.Name, outlet.Definition.Name)
           select Of(site, pedestal, outlet, estimate, learned, trips[key]) with { Contact = contacts.GetValueOrDefault(key) },
    ];

    static OutletRisk Of(
        SiteDefinition site, PedestalImage pedestal, OutletImage outlet, DockEstimate estimate, DockLearned learned,
        TripOutlook trip)
    {
        var name = pedestal.Definition.Name;
        var amps = outlet.Latest!.Amps;
        var leg = amps.Legs.MaxBy(leg => amps[leg]);
        var volts = pedestal.IsFresh && pedestal.Latest!.Volts.Has(leg)
            ? pedestal.Latest.Volts[leg] : estimate.Pedestals[name].Volts[leg];
        var response = learned.ResponseOf(name, outlet.Definition.Name, site.Limits);
        double AmpsAt(double otherVolts) => SagResponse.AmpsAt(otherVolts, amps[leg], volts, response.Exponent);
        return new(
            name,
            outlet.Definition,
            leg,
            amps[leg],
            outlet.Definition.RatingAmps * site.Limits.ContinuousShare,
            volts,
            volts > 1 ? amps[leg] - AmpsAt(site.Supply.NominalVolts) : 0,
            volts > 1 ? AmpsAt(volts - 1) : amps[leg],
            response)
        {
            Trip = trip,
        };
    }
}
