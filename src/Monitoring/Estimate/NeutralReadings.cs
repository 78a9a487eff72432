using System.Numerics;
using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>
/// What single readings say of a dock's neutral. A load flow with the measured amps and the same volts on every leg of the
/// source gives what each pedestal should measure; what is left over is split into a shift of the neutral and a part common to
/// the legs. The median common part is the supply's; what a pedestal's differs from it is no neutral's doing and counts as doubt
/// about that pedestal, so one bad meter or one bad leg decides nothing.
/// </summary>
/// <remarks>
/// Readings are of different moments. A pedestal that shows less than a quarter of the largest shift, and was read before the first that
/// shows more, says nothing of what has happened since: it is left out until it speaks again, and so is one that showed more in the reading before. One that shows more has moved; how
/// far and which way depends on its moment, since the shift swings as loads stall, trip and come back.
/// </remarks>
sealed class NeutralReadings(SiteDefinition site, DockDefinition dock, DockEstimate estimate)
{
    /// <summary>From here a shift is a fault and not a supply that is uneven: 4 V of 120 (assumed; ANSI C84.1 lets legs differ by 3 %, from memory).</summary>
    public const double LimitShare = 1.0 / 30;

    /// <summary>Share of nominal from which one reading is enough: 12 V of 120 (assumed).</summary>
    public const double AtOnceShare = 0.10;

    /// <summary>Accuracy class of the volts, share of nominal: class 0.5 (assumed).</summary>
    const double VoltsClass = 0.005;

    /// <summary>Of the amps, share of what is drawn, and what it is off by when little is (assumed).</summary>
    const double AmpsShare = 0.02;
    const double LeastAmps = 0.1;

    /// <summary>One standard deviation of the unbalance of a pedestal of which the amps are not known (assumed).</summary>
    const double UnknownAmps = 12;

    /// <summary>Below this mean of the legs a leg is gone, and that is another fault: an open neutral keeps their sum.</summary>
    const double PresentShare = 0.8;

    double LimitVolts => LimitShare * site.Supply.NominalVolts;

    /// <summary>The cable whose neutral explains the pedestals' volts best; null where none stands out of the ordinary.</summary>
    public NeutralShift? Fit(DockImage image) => Fit(image, estimate.AtNoLoadVolts);

    /// <summary>The same, one reading earlier at every pedestal.</summary>
    public NeutralShift? FitBefore(DockImage image)
    {
        var earlier = Earlier(image);
        return Fit(earlier, Sweep.Solve(OutletLoads.Of(estimate.AtNoLoadVolts.Feeder, earlier, site.Limits)).State);
    }

    NeutralShift? Fit(DockImage image, LoadFlowState flow)
    {
        var shifts = ShiftsOf(image, flow).ToList();
        var largest = shifts.Select(one => one.Shift.Volts).DefaultIfEmpty().MaxBy(volts => volts.Magnitude);
        if (largest.Magnitude < LimitVolts / 2)
            return null;
        var moved = Math.Max(LimitVolts / 2, largest.Magnitude / 4);
        var began = shifts.Where(one => one.Shift.Volts.Magnitude >= moved).Min(one => one.Time);
        return NeutralShift.Find(
            flow,
            [
                .. from one in shifts
                   let hasMoved = one.Shift.Volts.Magnitude >= moved
                   where hasMoved || (one.Time >= began && StoodStill(image.Pedestals[one.Shift.Bus], moved))
                   select hasMoved ? AtTheMomentOf(largest, one.Shift) : one.Shift,
            ],
            DoubtAmps(image),
            Candidates());
    }

    static DockImage Earlier(DockImage image) => image with
    {
        Pedestals = image.Pedestals.ToDictionary(pair => pair.Key, pair => pair.Value with
        {
            Latest = pair.Value.Previous,
            Previous = null,
            Outlets = pair.Value.Outlets.ToDictionary(outlet => outlet.Key, outlet => outlet.Value with
            {
                Latest = pair.Value.Previous?.Outlets.GetValueOrDefault(outlet.Key, outlet.Value.Latest!),
            }),
        }),
    };

    IEnumerable<(BusShift Shift, DateTimeOffset Time)> ShiftsOf(DockImage image, LoadFlowState state)
    {
        var parts = image.Pedestals.Values.Where(HasAllLegs).Select(pedestal =>
        {
            var (name, volts) = (pedestal.Definition.Name, pedestal.Latest!.Volts);
            var residuals = site.Supply.Legs.Aggregate(PerLeg.None, (all, leg) =>
                all.With(leg, volts[leg] - state.VoltsAt(name, leg).Magnitude));
            return (Name: name, pedestal.Latest.Time, Fit: NeutralShift.OfResiduals(site.Supply, residuals));
        }).ToList();
        var supply = Median([.. parts.Select(part => part.Fit.Common)]);
        return parts.Select(part => (
            new BusShift(part.Name, part.Fit.Shift, Root(
                Square(VoltsClass * site.Supply.NominalVolts) + Square(part.Fit.Common - supply))),
            part.Time));
    }

    /// <summary>What has swung far from the largest shift stands for as many of its own standard deviations at that one's moment.</summary>
    static BusShift AtTheMomentOf(Complex largest, BusShift shift) => (largest - shift.Volts).Magnitude < largest.Magnitude / 4
        ? shift
        : shift with { Volts = largest, SdVolts = shift.SdVolts * largest.Magnitude / shift.Volts.Magnitude };

    /// <summary>Its legs have not gone apart or together since its reading before: what shows no shift now showed none then.</summary>
    bool StoodStill(PedestalImage pedestal, double volts)
    {
        if (pedestal.Previous is not { } previous || !site.Supply.Legs.All(previous.Volts.Has))
            return true;
        var since = site.Supply.Legs.Aggregate(PerLeg.None, (all, leg) => all.With(leg, pedestal.Latest!.Volts[leg] - previous.Volts[leg]));
        return NeutralShift.OfResiduals(site.Supply, since).Shift.Magnitude < volts;
    }

    bool HasAllLegs(PedestalImage pedestal) => pedestal.IsFresh && site.Supply.Legs.All(pedestal.Latest!.Volts.Has)
        && site.Supply.Legs.Average(leg => pedestal.Latest!.Volts[leg]) > PresentShare * site.Supply.NominalVolts;

    static Dictionary<string, double> DoubtAmps(DockImage image)
    {
        var turn = Median([.. image.Pedestals.Values.Select(pedestal => pedestal.Previous?.Time).OfType<DateTimeOffset>().Select(time => (double)time.UtcTicks)]);
        return image.Pedestals.ToDictionary(pair => pair.Key, pair =>
        {
            var missedItsTurn = pair.Value.Latest?.Time.UtcTicks < turn;
            return !pair.Value.IsFresh || missedItsTurn ? UnknownAmps : Root(pair.Value.Outlets.Values.Sum(Doubt));
        });
    }

    /// <summary>Squared doubt about one outlet's amps, with half of what they moved by: nobody knows when between two readings.</summary>
    static double Doubt(OutletImage outlet)
    {
        if (outlet.Latest is not { Closed: not false } reading)
            return outlet.Latest == null ? Square(UnknownAmps) : 0;
        var before = outlet.Recent.LastOrDefault(moment => !ReferenceEquals(moment.Outlet, reading))?.Outlet.Amps ?? reading.Amps;
        return outlet.Definition.Legs.Sum(leg => !reading.Amps.Has(leg)
            ? Square(UnknownAmps)
            : Square(AmpsShare * reading.Amps[leg]) + Square(LeastAmps)
                + (before.Has(leg) ? Square((reading.Amps[leg] - before[leg]) / 2) : 0));
    }

    /// <summary>Every cable; the supply's own neutral only where several cables leave it, since else the first cable stands for it.</summary>
    List<string> Candidates()
    {
        var cables = dock.Cables.Select(cable => cable.To);
        var leaving = dock.Cables.Count(cable => cable.From == DockDefinition.SourcePoint);
        return [.. leaving > 1 ? cables.Prepend(DockDefinition.SourcePoint) : cables];
    }

    static double Median(double[] values)
    {
        Array.Sort(values);
        return values.Length == 0 ? double.NaN : (values[(values.Length - 1) / 2] + values[values.Length / 2]) / 2;
    }

    static double Square(double value) => value * value;

    static double Root(double value) => Math.Sqrt(value);
}
