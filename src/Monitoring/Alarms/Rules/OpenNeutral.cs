using System.Numerics;
using System.Text.Json.Nodes;
using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// The neutral of a cable has too much resistance or is open: beyond it one leg rises as the other falls. A shift that no load on the
/// dock could make through a healthy neutral is raised from one reading; a smaller one must show in the reading before too, since
/// a load may have come on that its own pedestal has not yet told of. While readings still come in, the cable is the innermost that fits;
/// located further out, the alarm is raised again. So it is whenever two rounds of readings in a row, of all who are heard, point to another cable.
/// </summary>
sealed class OpenNeutral : IAlarmRule
{
    /// <summary>A single shift must stand out of its own uncertainty by so much; one that two readings show, by less: most doubt is about what passes.</summary>
    const double LeastSds = 5;
    const double LeastSdsTwice = 3.5;

    /// <summary>
    /// With fewer ohms a neutral still returns the boats' amps: where its hundreds of amps shift the legs all the same, that is unbalance,
    /// cables a little longer than the site file says, or a joint, for the search for bad joints (assumed: a third of half an ohm).
    /// A large shift is let go only if it is surely of fewer, by so many standard deviations; a small one must look like more.
    /// </summary>
    const double FailingOhms = 0.15;
    const double SurelySds = 2;

    /// <summary>
    /// What one start of a motor shows may be the newest reading of one pedestal and the one before of another: two readings tell of two
    /// moments if so much lies between them (assumed: a start is over within a second or two).
    /// </summary>
    static readonly TimeSpan Apart = TimeSpan.FromSeconds(2);

    /// <summary>From here a neutral does not return the boats' amps any more (assumed).</summary>
    const double OpenOhms = 5;

    public AlarmKind Kind => AlarmKind.OpenNeutral;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        if (picture.Site.Supply.Legs.Count < 2)
            return [];
        var readings = new NeutralReadings(picture.Site, picture.Dock, picture.Estimate);
        var round = readings.Fit(picture.Image);
        var shift = round.Shift;
        var once = Margin(shift, NeutralReadings.AtOnceShare * picture.Site.Supply.NominalVolts + round.ByLoadVolts, LeastSds, SurelySds);
        var (twice, sameCable) = Twice(picture, readings, round);
        return
        [
            new(
                new Place(picture.Dock.Name),
                once > 0 ? once : twice,
                Priorities.Of(Consequence.Danger, minutesToRespond: 1),
                Audience.Everybody,
                () => shift == null ? new([Sentence.Of("The neutral stands where it should.")], []) : Describe(picture, shift),
                AtOnce: true,
                Sharpness: shift == null ? 0 : picture.Tree.Depth(shift.Branch.To))
            {
                Beyond = shift?.Branch.To,
                IsLocated = twice > 0 && sameCable && round.OfAll,
            },
        ];
    }

    /// <summary>By how much the shift, and the one that the readings before show, are past the limit; both on one cable?</summary>
    static (double Margin, bool SameCable) Twice(DockPicture picture, NeutralReadings readings, NeutralRound now)
    {
        var limitVolts = NeutralReadings.LimitShare * picture.Site.Supply.NominalVolts;
        var margin = Margin(now.Shift, limitVolts, LeastSdsTwice, 0);
        if (margin <= 0)
            return (margin, false);
        var (before, at, _) = readings.FitBefore(picture.Image);
        return before != null && now.At - at >= Apart && (before.Volts * Complex.Conjugate(now.Shift!.Volts)).Real > 0
            ? (Math.Min(margin, Margin(before, limitVolts, LeastSdsTwice, 0)), before.Branch == now.Shift.Branch)
            : (-1, false);
    }

    /// <param name="ohmsSds">By so many the ohms must be too few, for the shift to be none.</param>
    static double Margin(NeutralShift? shift, double limitVolts, double sds, double ohmsSds) =>
        shift == null || shift.LeastOhms + ohmsSds * shift.OhmsSd < FailingOhms ? -1
        : shift.Volts.Magnitude / Math.Max(limitVolts, sds * shift.SdVolts) - 1;

    static Description Describe(DockPicture picture, NeutralShift shift)
    {
        var from = shift.Branch.From == DockFeeder.OpenCircuit ? "supply" : shift.Branch.From;
        var isOpen = shift.LeastOhms > OpenOhms || shift.NeutralAmps.Magnitude < 2 * shift.NeutralAmpsSd;
        var volts = Furthest(picture);
        return new(
            [
                isOpen
                    ? Sentence.Of("DANGER: the neutral of the cable from {0} to {1} is open or nearly so; pedestal {2} has {3}.", from, shift.Branch.To, volts.Definition.Name, Words(volts))
                    : Sentence.Of("DANGER: the neutral of the cable from {0} to {1} has about {2:0.##} ohm too much; pedestal {3} has {4}.", from, shift.Branch.To, shift.LeastOhms, volts.Definition.Name, Words(volts)),
                Sentence.Of("Switch off now every outlet beyond it, at the pedestals or at the feeder breaker: it can destroy what is plugged in, and start a fire, within seconds."),
                Sentence.Of("Call a licensed electrician; do not open it live, and keep everybody out of the water."),
            ],
            new JsonObject
            {
                ["cable"] = new JsonArray(from, shift.Branch.To),
                ["conductor"] = nameof(Leg.N),
                ["open"] = isOpen,
                ["milliohms"] = Math.Round(1000 * shift.LeastOhms),
                ["milliohms-sd"] = Math.Round(1000 * shift.OhmsSd),
                ["watts"] = Math.Round(shift.Watts),
                ["watts-sd"] = Math.Round(shift.WattsSd),
                ["shift"] = Math.Round(shift.Volts.Magnitude, 2),
                ["shift-sd"] = Math.Round(shift.SdVolts, 2),
                ["neutral-amps"] = Math.Round(shift.NeutralAmps.Magnitude, 1),
                ["neutral-amps-sd"] = Math.Round(shift.NeutralAmpsSd, 1),
                ["pedestal"] = volts.Definition.Name,
            });
    }

    /// <summary>The fresh pedestal whose legs differ most.</summary>
    static PedestalImage Furthest(DockPicture picture) => picture.Image.Pedestals.Values.Where(pedestal => pedestal.IsFresh)
        .MaxBy(pedestal => pedestal.Latest!.Volts.Legs.Max(leg => pedestal.Latest.Volts[leg]) - pedestal.Latest.Volts.Legs.Min(leg => pedestal.Latest.Volts[leg]))!;

    static string Words(PedestalImage pedestal) => string.Join(", ", pedestal.Latest!.Volts.Legs.Select(leg => Invariant($"{leg} {pedestal.Latest.Volts[leg]:0} V")));
}
