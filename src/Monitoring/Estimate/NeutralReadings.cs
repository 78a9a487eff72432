using System.Numerics;
using Farberth.Grid.Estimation;
using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>
/// What single readings say of a dock's neutral. A load flow with the measured amps and the same volts on every leg of the
/// source gives what each pedestal should measure; what is left over is split into a shift of the neutral and a part common to
/// the legs. The median common part is the supply's; what a pedestal's differs from it is no neutral's doing and counts as doubt
/// about that pedestal, so one bad meter or one bad leg decides nothing.
/// </summary>
/// <remarks>
/// Readings are of different moments, and loads come and go between them: each reading is held against the amps at its own moment
/// (<see cref="AmpsThen"/>). A pedestal that shows less than a quarter of the largest shift, and was read before the first that
/// shows more, says nothing of what has happened since: it is left out until it speaks again, and so is one that showed more in the
/// reading before. One that shows more has moved; how far and which way depends on its moment, since the shift swings as loads stall,
/// trip and come back.
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
    /// <remarks>
    /// Amps that stand whatever the volts lose as much from any source, but for their angles. So the load flow that every tick makes, put back by what its
    /// source differs from leg to leg, tells in nearly every tick that there is nothing to look at.
    /// </remarks>
    public NeutralRound Fit(DockImage image)
    {
        var ofSource = Split(estimate.FromSource.VoltsAt(DockFeeder.OpenCircuit)).Shift;
        return ShowsAShift(image, estimate.FromSource, ofSource, 0.5) ? Fit(image, estimate.AtNoLoadVolts) : default;
    }

    /// <summary>The same, one reading earlier at every pedestal.</summary>
    public NeutralRound FitBefore(DockImage image)
    {
        var earlier = Earlier(image);
        return Fit(earlier, Sweep.Solve(OutletLoads.Of(estimate.AtNoLoadVolts.Feeder, earlier, site.Limits, DockLearned.Nothing)).State);
    }

    NeutralRound Fit(DockImage image, LoadFlowState flow)
    {
        if (!ShowsAShift(image, flow, Complex.Zero, 0.75))
            return default;
        var drops = new SharedDrops(flow.Feeder);
        var shifts = ShiftsOf(image, flow, drops);
        var (most, largest, at, below) = shifts.MaxBy(one => one.Shift.Magnitude);
        if (largest.Magnitude < LimitVolts)
            return default;
        var moved = Math.Max(LimitVolts / 2, largest.Magnitude / 4);
        var began = shifts.Where(one => one.Shift.Magnitude >= moved).Min(one => one.Time);
        List<BusResiduals> heard =
        [
            .. from one in shifts
               let hasMoved = one.Shift.Magnitude >= moved
               where hasMoved || (one.Time >= began && StoodStill(image.Pedestals[one.Residuals.Bus], began, moved))
               select hasMoved ? AtTheMomentOf(largest, one.Residuals, one.Shift) : one.Residuals,
        ];
        return new(NeutralShift.Find(flow, drops, heard, DoubtAmps(image), Candidates(flow.Feeder, most.Bus)), at, heard.Count == shifts.Count)
        {
            ByLoadVolts = drops.ShiftPerFall(most.Bus) * (Fall(image.Pedestals[most.Bus]) ?? below),
        };
    }

    /// <summary>By how much the mean of the legs has fallen since the reading before; null where that lacks a leg.</summary>
    double? Fall(PedestalImage pedestal) => pedestal.Previous is { } previous && site.Supply.Legs.All(previous.Volts.Has)
        ? Math.Max(0, site.Supply.Legs.Average(leg => previous.Volts[leg] - pedestal.Latest!.Volts[leg]))
        : null;

    /// <summary>Asked at every tick, and nearly always false; true where there is no number.</summary>
    /// <param name="ofSource">What the legs of the flow's source differ by, as a shift.</param>
    bool ShowsAShift(DockImage image, LoadFlowState flow, Complex ofSource, double shareOfLimit)
    {
        foreach (var pedestal in image.Pedestals.Values)
            if (HasAllLegs(pedestal) && !((Split(Residuals(pedestal, flow)).Shift + ofSource).Magnitude < shareOfLimit * LimitVolts))
                return true;
        return false;
    }

    static DockImage Earlier(DockImage image) => image with
    {
        Pedestals = image.Pedestals.Each((_, pedestal) => pedestal with
        {
            Latest = pedestal.Previous,
            Previous = null,
            Outlets = pedestal.Outlets.Each((name, outlet) => outlet with
            {
                Latest = pedestal.Previous?.Outlets.GetValueOrDefault(name, outlet.Latest!),
            }),
        }),
    };

    /// <summary>With by how much the mean of its legs is below the others', V.</summary>
    List<(BusResiduals Residuals, Complex Shift, DateTimeOffset Time, double BelowVolts)> ShiftsOf(DockImage image, LoadFlowState flow, SharedDrops drops)
    {
        var parts = image.Pedestals.Values.Where(HasAllLegs).Select(pedestal =>
        {
            var then = new AmpsThen(site.Supply, flow.Feeder.Buses, image, pedestal);
            var volts = Residuals(pedestal, flow);
            foreach (var leg in site.Supply.Legs)
                volts = volts.With(leg, volts[leg] + drops.Volts(pedestal.Definition.Name, leg, then.Amps));
            return (Pedestal: pedestal, Volts: volts, Fit: Split(volts), then.Sd);
        }).ToList();
        var supply = Median([.. parts.Select(part => part.Fit.Common)]);
        return [.. parts.Select(part => (
            new BusResiduals(part.Pedestal.Definition.Name, part.Pedestal.Latest!.Time, part.Volts, Root(
                Square(VoltsClass * site.Supply.NominalVolts) + Square(part.Fit.Common - supply)), part.Sd),
            part.Fit.Shift,
            part.Pedestal.Latest!.Time,
            Math.Max(0, supply - part.Fit.Common)))];
    }

    static PerLeg Residuals(PedestalImage pedestal, LoadFlowState flow)
    {
        var (read, computed) = (pedestal.Latest!.Volts, flow.VoltsAt(pedestal.Definition.Name));
        return new(read.L1 - computed.L1, read.L2 - computed.L2, read.L3 - computed.L3);
    }

    (Complex Shift, double Common) Split(PerLeg residuals) => NeutralShift.OfResiduals(site.Supply, residuals);

    /// <summary>What has swung far from the largest shift stands for as many of its own standard deviations at that one's moment.</summary>
    BusResiduals AtTheMomentOf(Complex largest, BusResiduals residuals, Complex shift) => (largest - shift).Magnitude < largest.Magnitude / 4
        ? residuals
        : residuals with
        {
            Volts = site.Supply.Legs.Aggregate(PerLeg.None, (all, leg) => all.With(
                leg, residuals.Volts[leg] - ((largest - shift) * Complex.Conjugate(site.Supply.Direction(leg))).Real)),
            SdVolts = residuals.SdVolts * largest.Magnitude / shift.Magnitude,
        };

    /// <summary>Its legs have not gone apart or together since the reading before the shift began: what shows no shift now showed none then.</summary>
    bool StoodStill(PedestalImage pedestal, DateTimeOffset began, double volts)
    {
        var moments = pedestal.Outlets.Values.Select(outlet => outlet.Recent).MaxBy(recent => recent.Count) ?? [];
        for (var at = moments.Count - 1; at >= 0; at--)
        {
            if (moments[at].Time < pedestal.Latest!.Time && Moved(moments[at].Volts, pedestal.Latest.Volts) >= volts)
                return false;
            if (moments[at].Time < began)
                break;
        }
        return true;
    }

    /// <summary>How far the neutral point has moved between two readings of one meter; 0 where one lacks a leg.</summary>
    double Moved(PerLeg from, PerLeg to) => !site.Supply.Legs.All(from.Has) ? 0
        : Split(site.Supply.Legs.Aggregate(PerLeg.None, (all, leg) => all.With(leg, to[leg] - from[leg]))).Shift.Magnitude;

    bool HasAllLegs(PedestalImage pedestal)
    {
        if (!pedestal.IsFresh)
            return false;
        var sum = 0.0; // no number where a leg has none, and then not above anything
        foreach (var leg in site.Supply.Legs)
            sum += pedestal.Latest!.Volts[leg];
        return sum / site.Supply.Legs.Count > PresentShare * site.Supply.NominalVolts;
    }

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

    /// <summary>
    /// Every cable on the way to the pedestal that shows most; the supply's own neutral only where several cables leave it, since else the
    /// first cable stands for it.
    /// </summary>
    List<string> Candidates(Feeder feeder, string pedestal)
    {
        var leaving = dock.Cables.Count(cable => cable.From == DockDefinition.SourcePoint);
        return [.. feeder.PathTo(pedestal).Select(branch => branch.To).Where(to => to != DockDefinition.SourcePoint || leaving > 1)];
    }

    static double Median(double[] values)
    {
        Array.Sort(values);
        return values.Length == 0 ? double.NaN : (values[(values.Length - 1) / 2] + values[values.Length / 2]) / 2;
    }

    static double Square(double value) => value * value;

    static double Root(double value) => Math.Sqrt(value);
}

/// <summary>What one reading of every pedestal says of the neutral.</summary>
/// <param name="Shift">Null where none stands out of the ordinary.</param>
/// <param name="At">Of the reading that shows most.</param>
/// <param name="OfAll">Every pedestal that is heard has its say in it.</param>
readonly record struct NeutralRound(NeutralShift? Shift, DateTimeOffset At, bool OfAll)
{
    /// <summary>
    /// What loads on one leg would move the neutral point by if they alone lowered the mean of the legs as far as it has fallen where the shift is largest.
    /// Loads that nobody told of come together, when the supply returns or the sun does; a bad neutral leaves the mean where it was.
    /// </summary>
    public double ByLoadVolts { get; init; }
}
