namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>One kind of alarm: what it looks at and when that is past its limit.</summary>
public interface IAlarmRule
{
    AlarmKind Kind { get; }

    /// <summary>
    /// A finding for every place it watches, at every tick, whether bad or good. A good one may be left out where no
    /// alarm is <see cref="DockPicture.Recalled"/>.
    /// </summary>
    IEnumerable<Finding> Judge(DockPicture picture);
}

/// <summary>Every rule, in the order in which a tick asks them. A new rule is one class and one line here.</summary>
public static class AlarmRules
{
    public static readonly IReadOnlyList<IAlarmRule> All =
    [
        new OpenNeutral(),
        new Overload(),
        new Undervoltage(),
        new Overvoltage(),
        new SupplyLost(),
        new NoDraw(),
        new CableOverload(),
        new TransformerOverload(),
        new LegImbalance(),
        new MeterSilent(),
        new StalledMotor(),
        new Leakage(),
        new MeterDoubtful(),
        new ResistiveJoint(),
        new ConnectorHeating(),
        new SagForecast(),
    ];
}
