using System.Text.Json.Nodes;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>The leg of a pedestal that stands furthest to one side: measured where fresh, else computed.</summary>
readonly record struct VoltageAtPedestal(PedestalDefinition Pedestal, Leg Leg, double Volts, bool IsMeasured)
{
    /// <summary>Below this share of the nominal volts the supply is gone, and that is another alarm.</summary>
    const double DeadShare = 0.5;

    /// <param name="key">Smallest wins: the volts for the lowest leg, their negative for the highest.</param>
    public static IEnumerable<VoltageAtPedestal> Furthest(DockPicture picture, Func<double, double> key) =>
        from pedestal in picture.Image.Pedestals.Values
        let isMeasured = pedestal.IsFresh
        let volts = isMeasured
            ? pedestal.Latest!.Volts : picture.Estimate.Pedestals[pedestal.Definition.Name].Volts
        let leg = volts.Legs.Where(leg => leg != Leg.N).MinBy(leg => key(volts[leg]))
        select new VoltageAtPedestal(pedestal.Definition, leg, volts[leg], isMeasured);

    public bool IsDead(DockPicture picture) => Volts < DeadShare * picture.Site.Supply.NominalVolts;

    public Finding Judge(
        DockPicture picture, double margin, bool isOutsideB, Func<VoltageAtPedestal, string> sentence, double limitVolts)
    {
        var self = this;
        return new(
            new Place(picture.Dock.Name, Pedestal: Pedestal.Name),
            IsDead(picture) ? -1 : margin,
            isOutsideB ? Priorities.Of(Consequence.Damage, minutesToRespond: 10) : Priorities.Of(Consequence.Service, minutesToRespond: 120),
            isOutsideB ? Audience.Everybody : Audience.Electrician | Audience.Harbormaster,
            () => new(sentence(self), self.Evidence(limitVolts)));
    }

    JsonObject Evidence(double limitVolts) => new()
    {
        ["leg"] = Leg.ToString(),
        ["volts"] = Math.Round(Volts, 2),
        ["limit"] = limitVolts,
        ["measured"] = IsMeasured,
    };
}
