using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Risk;

/// <summary>How near one outlet is to its limits, on the leg that carries most.</summary>
/// <param name="ContinuousAmps">What it may carry for hours.</param>
/// <param name="Volts">Measured where fresh, else computed; of <paramref name="Leg"/>.</param>
/// <param name="NominalVolts">Of the supply.</param>
/// <param name="Response">Learned from this outlet, from the site's assumed one on.</param>
public sealed record OutletRisk(
    string Pedestal,
    OutletDefinition Outlet,
    Leg Leg,
    double Amps,
    double ContinuousAmps,
    double Volts,
    double NominalVolts,
    LearnedResponse Response)
{
    /// <summary>How warm its plug and receptacle get; null before it is known.</summary>
    public ContactRisk? Contact { get; init; }

    /// <summary>Amps still free below the continuous limit; below 0 when it is passed.</summary>
    public double HeadroomAmps => ContinuousAmps - Amps;

    /// <summary>The part of <see cref="Amps"/> that is there because volts are missing to the nominal; below 0 for a heater.</summary>
    public double SagAmps => Volts > 1 ? Amps - AmpsAt(NominalVolts) : 0;

    /// <summary>What the amps become if the dock sags by another volt.</summary>
    public double AmpsOneVoltLower => Volts > 1 ? AmpsAt(Volts - 1) : Amps;

    double AmpsAt(double otherVolts) => SagResponse.AmpsAt(otherVolts, Amps, Volts, Response.Exponent);

    /// <summary>How near its breaker is to opening.</summary>
    public required TripOutlook Trip { get; init; }

    /// <summary>Of every outlet that has been heard from.</summary>
    /// <param name="trips">As <see cref="DockImage.Outlets"/>.</param>
    public static IReadOnlyList<OutletRisk> Of(
        SiteDefinition site, DockImage image, DockEstimate estimate, DockLearned learned,
        IReadOnlyDictionary<OutletKey, ContactRisk> contacts, IReadOnlyList<TripOutlook> trips)
    {
        var risks = new List<OutletRisk>(trips.Count);
        foreach (var ((pedestal, outlet), trip) in image.Outlets.Zip(trips))
            if (outlet.Latest is { Amps: { Legs.Count: > 0 } amps })
            {
                var key = new OutletKey(pedestal.Definition.Name, outlet.Definition.Name);
                var response = learned.ResponseOf(key, site.Limits);
                risks.Add(Of(site, pedestal, outlet.Definition, amps, estimate, response, contacts.GetValueOrDefault(key), trip));
            }
        return risks;
    }

    static OutletRisk Of(
        SiteDefinition site, PedestalImage pedestal, OutletDefinition outlet, PerLeg amps, DockEstimate estimate, LearnedResponse response,
        ContactRisk? contact, TripOutlook trip)
    {
        var name = pedestal.Definition.Name;
        var leg = Most(amps);
        var volts = pedestal.IsFresh && pedestal.Latest!.Volts.Has(leg)
            ? pedestal.Latest.Volts[leg] : estimate.Pedestals[name].Volts[leg];
        return new(name, outlet, leg, amps[leg], site.Limits.ContinuousAmps(outlet.RatingAmps), volts, site.Supply.NominalVolts, response)
        {
            Contact = contact,
            Trip = trip,
        };
    }

    /// <summary>The first of those with the most.</summary>
    static Leg Most(PerLeg amps)
    {
        var most = amps.Legs[0];
        foreach (var leg in amps.Legs)
            most = amps[leg] > amps[most] ? leg : most;
        return most;
    }
}
