using Farberth.Grid.Network;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Site;

namespace Farberth.Planning.Loads;

/// <summary>A boat as one expects it on a kind of outlet, where nobody has said which comes.</summary>
public static class TypicalBoat
{
    /// <summary>Assumed: air conditioners of a third of what its cord may carry, and 9 m and half a metre more for each kVA of the cord.</summary>
    const double CoolingShare = 0.35, LeastMetres = 9, MetresPerKilovoltAmpere = 0.5;

    public static Boat Of(SupplySystem supply, Cord cord)
    {
        var voltAmperes = cord.RatingAmps * cord.Legs * supply.NominalVolts;
        var unit = Appliances.AirConditionerAmps(supply.NominalVolts) * supply.NominalVolts;
        return new(
            $"boat on {cord}", LeastMetres + MetresPerKilovoltAmpere * voltAmperes / 1000, 0, 0, [cord],
            Math.Max(1, (int)Math.Round(CoolingShare * voltAmperes / unit)));
    }

    /// <summary>The kinds of outlets that a site has, the smallest first.</summary>
    public static IReadOnlyList<Cord> KindsOf(SiteDefinition site) =>
    [
        .. site.Docks.Values.SelectMany(dock => dock.Pedestals.Values).SelectMany(pedestal => pedestal.Outlets.Values)
            .Select(outlet => new Cord(outlet.RatingAmps, outlet.Legs.Count, outlet.HasNeutral)).Distinct()
            .OrderBy(cord => cord.Legs).ThenBy(cord => cord.RatingAmps),
    ];

    /// <summary>The most that a boat draws in an hour of a day that gets so warm, on each leg contact, A.</summary>
    public static double PeakAmps(SupplySystem supply, Boat boat, double celsius)
    {
        var day = Outdoor.Of(celsius, celsius - 10);
        var midnight = new DateTime(2027, 7, 17);
        return Enumerable.Range(0, 24).Max(hour => BoatDemand.AmpsPerContact(supply, boat, hour, day.At(midnight.AddHours(hour))));
    }
}
