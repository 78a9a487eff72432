using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Telling;

/// <summary>Where a slip stands on a dock, and so what is its boater's business.</summary>
public sealed record SlipPlace(string Slip, DockDefinition Dock, DockTree Tree, IReadOnlyList<OutletKey> Outlets)
{
    public static SlipPlace Of(DockStep step, string slip) => Of(step.Picture.Dock, step.Picture.Tree, slip);

    public static SlipPlace Of(DockDefinition dock, DockTree tree, string slip) =>
        new(slip, dock, tree, tree.OutletsOfSlips.FirstOrDefault(one => one.Slip == slip).Outlets ?? []);

    /// <summary>
    /// An alarm of this slip; or one for boaters of its pedestal, of what feeds it, or of the whole dock. Never one of another slip or of
    /// another's pedestal.
    /// </summary>
    public bool Concerns(Alarm alarm) => alarm.For.HasFlag(Audience.Boater) && alarm.Place.Dock == Dock.Name && alarm.Place switch
    {
        { Slip: { } slip } => slip == Slip,
        { Outlet: not null } => false,
        { Pedestal: { } pedestal } => IsMine(pedestal),
        { Cable: Place.FeederBreaker } => true,
        { Cable: { } cable } => Outlets.Any(outlet => Tree.IsBeyond(cable, outlet.Pedestal)),
        _ => true,
    };

    /// <summary>The ids of all alarms that concern it without being of the slip, so that their past can be looked up.</summary>
    public IEnumerable<string> AlarmIds =>
    [
        .. from pedestal in Pedestals
           from kind in new[] { AlarmKind.Undervoltage, AlarmKind.Overvoltage }
           select new Place(Dock.Name, Pedestal: pedestal).AlarmId(kind),
        .. from point in Tree.Points
           where point != DockDefinition.SourcePoint && Pedestals.Any(pedestal => Tree.IsBeyond(point, pedestal))
           select new Place(Dock.Name, point).AlarmId(AlarmKind.SupplyLost),
        .. from kind in new[] { AlarmKind.SupplyLost, AlarmKind.OpenNeutral, AlarmKind.Leakage }
           select new Place(Dock.Name).AlarmId(kind),
    ];

    IEnumerable<string> Pedestals => Outlets.Select(outlet => outlet.Pedestal).Distinct();

    bool IsMine(string pedestal) => Outlets.Any(outlet => outlet.Pedestal == pedestal);
}
