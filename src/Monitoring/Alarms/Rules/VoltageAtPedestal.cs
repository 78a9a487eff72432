using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>The leg of a pedestal that stands furthest to one side: measured where fresh, else computed.</summary>
readonly record struct VoltageAtPedestal(PedestalDefinition Pedestal, Leg Leg, double Volts, bool IsMeasured)
{
    /// <summary>Below this share of the nominal volts the supply is gone, and that is another alarm.</summary>
    const double DeadShare = 0.5;

    /// <param name="sign">1: the lowest leg; -1: the highest.</param>
    public static VoltageAtPedestal Furthest(DockPicture picture, PedestalImage pedestal, int sign)
    {
        var volts = pedestal.IsFresh ? pedestal.Latest!.Volts : picture.Estimate.Pedestals[pedestal.Definition.Name].Volts;
        var (furthest, isFound) = (Leg.L1, false);
        for (var leg = Leg.L1; leg < Leg.N; leg++)
            if (volts.Has(leg) && (!isFound || sign * volts[leg] < sign * volts[furthest]))
                (furthest, isFound) = (leg, true);
        return new(pedestal.Definition, furthest, volts[furthest], pedestal.IsFresh);
    }

    public bool IsDead(DockPicture picture) => Volts < DeadShare * picture.Site.Supply.NominalVolts;

    public Finding Judge(
        DockPicture picture, double margin, bool isOutsideB, Func<VoltageAtPedestal, IReadOnlyList<Sentence>> said, double limitVolts)
    {
        var self = this;
        return new(
            new Place(picture.Dock.Name, Pedestal: Pedestal.Name),
            IsDead(picture) ? -1 : margin,
            isOutsideB ? Priorities.Of(Consequence.Damage, minutesToRespond: 10) : Priorities.Of(Consequence.Service, minutesToRespond: 120),
            isOutsideB ? Audience.Everybody : Audience.Electrician | Audience.Harbormaster,
            () => new(said(self), self.Evidence(limitVolts)));
    }

    JsonObject Evidence(double limitVolts) => new()
    {
        ["leg"] = Leg.ToString(),
        ["volts"] = Math.Round(Volts, 2),
        ["limit"] = limitVolts,
        ["measured"] = IsMeasured,
    };
}
