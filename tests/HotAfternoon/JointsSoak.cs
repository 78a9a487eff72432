using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Learning;
using static System.FormattableString;

namespace Farberth.HotAfternoon.Tests;

/// <summary>
/// Joints at full size: two days, 24 pedestals at 5 s, two meters dead, through the whole monitor. Takes about a minute a recording on a free core:
/// dotnet build tests/HotAfternoon -c Release, then in the folder of the built tests
/// ./Farberth.HotAfternoon.Tests -explicit only -showLiveOutput -class Farberth.HotAfternoon.Tests.JointsSoak
/// What was measured is in docs/algorithms/joints.md.
/// </summary>
public class JointsSoak(ITestOutputHelper output)
{
    /// <summary>Drawn at random from the conductors that carry more than 60 A in the afternoon and have a meter before them.</summary>
    static readonly (string Cable, Leg Conductor)[] Bad =
    [
        ("H4", Leg.N), ("H5", Leg.N), ("H6", Leg.L2), ("H12", Leg.L1), ("F1", Leg.N), ("H2", Leg.N),
        ("H5", Leg.L2), ("H2", Leg.N), ("H6", Leg.L1), ("F1", Leg.L2), ("H15", Leg.L2), ("H7", Leg.N),
        ("H16", Leg.L1), ("H2", Leg.L2), ("H8", Leg.N), ("F2", Leg.L2), ("H14", Leg.L1), ("H3", Leg.L1),
        ("H12", Leg.L2), ("H4", Leg.N), ("H3", Leg.L1), ("H11", Leg.N), ("H3", Leg.N), ("H13", Leg.L1),
    ];

    [Fact(Explicit = true)]
    public void Forty_recordings_of_two_days_without_a_fault_raise_none() => Assert.Empty(
        from seed in Enumerable.Range(1001, 40)
        let raised = JointsSeen.Raised(TwoDays.Scenario(seed, Dead(seed)))
        let said = Say(Invariant($"{seed}: {raised.Count} raised"))
        from alarm in raised
        select Say(Invariant($"{seed}: {alarm.Message}")));

    /// <summary>
    /// Where the conductor carries 60 A its alarm is raised within the first day; where it carries less, and too few watts are made for one,
    /// the monitor knows it by then. At the end it is the only one that is known, and no other cable has had an alarm.
    /// </summary>
    [Fact(Explicit = true)]
    public void A_joint_of_20_milliohms_is_named_alone_within_a_day_with_its_ohms() => Assert.Empty(
        from it in Bad.Index()
        let seed = 2001 + it.Index
        let run = Play(seed, it.Item.Cable, it.Item.Conductor)
        let said = Say(Invariant($"{seed} {it.Item.Cable} {it.Item.Conductor}, up to {run.LargestAmps:0} A, dead {string.Join(' ', Dead(seed))}: ") +
            Invariant($"known after {run.KnownAfter?.TotalHours:0.0} h, raised after {run.RaisedAfter?.TotalHours:0.0} h; ") +
            string.Join(", ", run.AtTheEnd.Select(joint =>
                Invariant($"{string.Join('/', joint.Cables)} {joint.Conductor} {1000 * joint.ExcessOhms:0.0} ± {1000 * joint.ExcessOhmsSd:0.0} mohm"))))
        where !run.IsRight
        select said);

    sealed record Run(
        TimeSpan? KnownAfter, TimeSpan? RaisedAfter, double LargestAmps, IReadOnlyList<CableJoint> AtTheEnd, bool IsAlone)
    {
        static readonly TimeSpan Day = TimeSpan.FromDays(1);

        public bool IsRight => IsAlone && (LargestAmps < 60 ? KnownAfter : RaisedAfter) <= Day && AtTheEnd is [{ ExcessOhms: > 0.016 and < 0.024 }];
    }

    static Run Play(long seed, string cable, Leg conductor)
    {
        var scenario = TwoDays.Scenario(seed, Dead(seed), TwoDays.Joint(cable, conductor, 0.020));
        var run = new Run(null, null, 0, [], true);
        foreach (var (step, truth) in TwoDays.Run(scenario))
        {
            var after = truth.Local - scenario.Start;
            bool IsIt(CableJoint joint) => joint.Cables.Contains(cable) && joint.Conductor == conductor;
            var raised = step.Transitions.Where(transition => transition.Alarm.Kind == AlarmKind.ResistiveJoint && transition.IsRaise).ToList();
            run = run with
            {
                KnownAfter = step.Picture.Learned.Joints.Any(IsIt) ? run.KnownAfter ?? after : null,
                RaisedAfter = run.RaisedAfter ?? (raised.Count > 0 ? after : null),
                LargestAmps = Math.Max(run.LargestAmps, truth.Docks["H"].CableAmps(cable, conductor)),
                AtTheEnd = step.Picture.Learned.Joints,
                IsAlone = run.IsAlone && raised.All(transition => step.Picture.Learned.Joints.Any(joint =>
                    IsIt(joint) && transition.Alarm.Id == $"H.{joint.Outer}.resistive-joint")),
            };
        }
        return run with { IsAlone = run.IsAlone && run.AtTheEnd.All(joint => joint.Cables.Contains(cable) && joint.Conductor == conductor) };
    }

    static string[] Dead(long seed)
    {
        var random = new NamedRandom(seed, "dead meters");
        return [.. TwoDays.Site.Docks["H"].Pedestals.Keys.OrderBy(_ => random.Between(0, 1)).Take(2)];
    }

    string Say(string line)
    {
        output.WriteLine(line);
        return line;
    }
}
