using System.Text.Json.Nodes;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>A conductor of a cable has clearly more ohms than it should, and they turn into heat in one place.</summary>
sealed class ResistiveJoint : IAlarmRule
{
    /// <summary>
    /// Loose connections have glowed at 35 W (NBSIR 76-1011, 15 A; confirmed); fire investigations speak of 30 to 40 W
    /// (confirmed). A third of that is worth opening a splice for (assumed).
    /// </summary>
    const double LimitWatts = 10;
    const double HighWatts = 30;

    public AlarmKind Kind => AlarmKind.ResistiveJoint;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        foreach (var cable in picture.Dock.Cables)
        {
            var joint = picture.Learned.Joints.Count == 0 ? null : JointOf(picture, cable.To);
            if (joint != null || picture.Recalled.At(Kind, cable.To))
                yield return Of(picture, cable, joint);
        }
    }

    static CableJoint? JointOf(DockPicture picture, string outer) => picture.Learned.Joints.FirstOrDefault(joint => joint.Outer == outer);

    static Finding Of(DockPicture picture, CableDefinition cable, CableJoint? joint)
    {
        var watts = joint?.WattsWorst ?? 0;
        return new(
            new Place(picture.Dock.Name, cable.To),
            watts / LimitWatts - 1,
            Priorities.Of(Consequence.Danger, minutesToRespond: watts > HighWatts ? 60 : 24 * 60),
            Audience.Electrician | Audience.Harbormaster,
            () => joint == null ? Gone(cable) : Describe(joint));
    }

    static Description Gone(CableDefinition cable) => new(
        [Sentence.Of("No joint of the cable from {0} to {1} stands out any more.", cable.From, cable.To)],
        new JsonObject { ["cable"] = new JsonArray(cable.From, cable.To) });

    static Description Describe(CableJoint joint)
    {
        var (milliohms, sd) = (1000 * joint.ExcessOhms, 1000 * joint.ExcessOhmsSd);
        IReadOnlyList<Sentence> rivals = joint.OrElse.Count == 0 ? []
            : [Sentence.Of("It may be another conductor instead, which these meters cannot tell apart: {0}.", string.Join(", ", joint.OrElse))];
        return new(
            [
                joint.Cables.Count == 1
                    ? Sentence.Of("A joint of {0} in the cable from {1} to {2} has {3:0.#} mΩ too much, give or take {4:0.#}.", joint.Conductor, joint.Inner, joint.Outer, milliohms, sd)
                    : Sentence.Of(
                        "A joint of {0} in one of the cables to {1}, which these meters cannot tell apart, has {2:0.#} mΩ too much, give or take {3:0.#}.",
                        joint.Conductor, string.Join(", ", joint.Cables.Reverse()), milliohms, sd),
                Sentence.Of("It made {0:0} W of heat in the worst hour of the week and makes {1:0} W now.", joint.WattsWorst, joint.WattsNow),
                .. rivals,
                Sentence.Of("Have a licensed electrician open the splices and lugs at both ends, with the feeder switched off, locked out and tested dead."),
            ],
            Evidence(joint));
    }

    static JsonObject Evidence(CableJoint joint) => new()
    {
        ["cable"] = new JsonArray(joint.Inner, joint.Outer),
        ["cables"] = new JsonArray([.. joint.Cables.Reverse().Select(name => JsonValue.Create(name))]),
        ["conductor"] = joint.Conductor.ToString(),
        ["or"] = new JsonArray([.. joint.OrElse.Select(leg => JsonValue.Create(leg.ToString()))]),
        ["milliohms"] = Math.Round(1000 * joint.ExcessOhms, 2),
        ["milliohms-sd"] = Math.Round(1000 * joint.ExcessOhmsSd, 2),
        ["watts"] = Math.Round(joint.WattsNow, 1),
        ["watts-sd"] = Math.Round(joint.WattsNowSd, 1),
        ["worst-hour-watts"] = Math.Round(joint.WattsWorst, 1),
        ["worst-hour-watts-sd"] = Math.Round(joint.WattsWorstSd, 1),
        ["limit"] = LimitWatts,
        ["since"] = joint.Since.ToString("O"),
        ["or-before"] = joint.IsOlder,
    };
}
