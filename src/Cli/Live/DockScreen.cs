using Farberth.Grid.Network;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Service;
using Farberth.Service.Views;
using static System.FormattableString;

namespace Farberth.Cli.Live;

/// <summary>
/// The terminal view of one dock. From the top: when and how much (harbormaster), where the volts go (electrician), who
/// is nearest to tripping and what to do (boater).
/// </summary>
sealed class DockScreen(SiteDefinition site, string footer)
{
    const int LinesAroundPlot = 16, MostSlips = 4, MostFree = 4, FewestPlotRows = 6;

    readonly Showing showing = new(site);
    readonly Dictionary<string, DockDistances> along = site.Docks.Values.ToDictionary(dock => dock.Name, dock => new DockDistances(dock));

    public IReadOnlyList<ScreenLine> Lines(SiteView view, int width, int height)
    {
        if (view.Docks.IsEmpty)
            return [new($"{site.Name}: waiting for the first tick"), new(footer, Tone.Quiet)];
        var step = view.Docks.Values.MinBy(LowestShare)!;
        var alarmLines = Math.Clamp(height - LinesAroundPlot - FewestPlotRows, 2, 5);
        var plotRows = Math.Clamp(height - LinesAroundPlot - alarmLines, FewestPlotRows, 16);
        return
        [
            Heading(view, step),
            Source(step),
            Cables(step),
            .. new VoltPlot(site, step, along[step.Picture.Dock.Name], width, plotRows).Lines(),
            .. Slips(step),
            Room(step),
            Asked(step),
            .. Alarms(view, alarmLines),
            new(Caution.Text, Tone.Quiet),
            new(footer, Tone.Quiet),
        ];
    }

    double LowestShare(DockStep step) => step.Picture.Estimate.Pedestals.Values
        .SelectMany(pedestal => pedestal.Volts.Legs.Select(leg => pedestal.Volts[leg])).DefaultIfEmpty(site.Supply.NominalVolts).Min();

    ScreenLine Heading(SiteView view, DockStep step)
    {
        var line = new ScreenLine($"{site.Name}, dock {step.Picture.Dock.Name}", Tone.Strong)
            .Add(Invariant($"   {showing.Local(step.Now):ddd d MMM yyyy}  ")).Add(Invariant($"{showing.Local(step.Now):HH:mm:ss}"), Tone.Strong);
        if (step.Picture.Image.Weather is { } weather)
            line.Add(Invariant($"   outdoors {weather.Celsius:0.0} °C"));
        if (view.Link.Reason.Length > 0)
            line.Add($"   broker away: {view.Link.Reason}", Tone.Bad);
        return step.Picture.Image.IsWhole ? line : line.Add("   still listening for every pedestal", Tone.Low);
    }

    static ScreenLine Source(DockStep step)
    {
        var (dock, estimate) = (step.Picture.Dock, step.Picture.Estimate);
        var legs = estimate.SourceVolts.Legs.Where(leg => leg != Leg.N);
        var line = new ScreenLine("source  " + string.Join("  ", legs.Select(leg => Invariant($"{leg} {estimate.SourceVolts[leg]:0.0} V {estimate.SourceAmps[leg]:0} A"))));
        line.Add(Invariant($"  N {estimate.SourceAmps.N:0} A"));
        if (estimate.TransformerLoad is { } load)
            line.Add("   transformer ").Add(Invariant($"{load * 100:0} %"), load > 1 ? Tone.Bad : Tone.Plain);
        return dock.FeederBreakerAmps is { } breaker ? line.Add(Invariant($"   feeder breaker {breaker:0} A")) : line;
    }

    static ScreenLine Cables(DockStep step)
    {
        var cables = step.Picture.Estimate.Cables;
        var lost = cables.OrderByDescending(pair => MostDrop(pair.Value.DropVolts)).Take(3);
        var (name, fullest) = cables.MaxBy(pair => pair.Value.Load);
        return new ScreenLine("most volts lost in the cables to  " + string.Join(", ", lost.Select(pair => Invariant($"{pair.Key} {MostDrop(pair.Value.DropVolts):0.0} V"))))
            .Add(Invariant($"   fullest cable {name} "))
            .Add(Invariant($"{fullest.Load * 100:0} %"), fullest.Load > 1 ? Tone.Bad : Tone.Plain);
    }

    static double MostDrop(PerLeg drop) => drop.Legs.Select(leg => drop[leg]).DefaultIfEmpty(0).Max();

    static IEnumerable<ScreenLine> Slips(DockStep step)
    {
        yield return new("slips nearest to | their limit for hours     amps  limit   room     volts  if 1 V less", Tone.Quiet);
        foreach (var risk in Showing.Worst(step).Take(MostSlips))
        {
            var share = risk.Amps / risk.ContinuousAmps;
            var tone = risk.Amps > risk.Outlet.RatingAmps ? Tone.Bad : share > 1 ? Tone.Low : Tone.Plain;
            yield return new ScreenLine($"{risk.Outlet.Slip ?? "-",-7} {risk.Pedestal + "." + risk.Outlet.Name + " " + risk.Leg,-14} ")
                .Add(Bar(share), tone)
                .Add(Invariant($" {risk.Amps,7:0.0} {risk.ContinuousAmps,6:0} "))
                .Add(Invariant($"{risk.HeadroomAmps,6:0.0}"), tone)
                .Add(Invariant($" {risk.Volts,7:0.0} V {risk.AmpsOneVoltLower,7:0.0} A"))
                .Add(risk.Amps > risk.Outlet.RatingAmps ? "  may trip" : share > 1 ? "  shed load" : "", tone);
        }
    }

    /// <summary>A tenth of the limit a mark, the limit itself a bar.</summary>
    static string Bar(double share)
    {
        var marks = (int)Math.Round(Math.Clamp(share, 0, 1.4) * 10);
        return (new string('=', Math.Min(marks, 10)).PadRight(10) + "|" + new string('=', Math.Max(0, marks - 10))).PadRight(15);
    }

    static ScreenLine Room(DockStep step)
    {
        var room = FreeSlips.Of(step).Take(MostFree)
            .Select(risk => Invariant($"{risk.Outlet.Slip} {risk.HeadroomAmps:0} A at {risk.Volts:0} V"));
        var text = string.Join(", ", room);
        return new ScreenLine("room for the next boat: ", Tone.Quiet).Add(text.Length > 0 ? text : "no empty slip has volts inside band A");
    }

    static ScreenLine Asked(DockStep step)
    {
        var asked = step.Advice.Standing.OrderBy(advice => advice.Ask).ThenByDescending(advice => advice.Time).ToList();
        var line = new ScreenLine("asked of boaters: ", Tone.Quiet);
        if (asked.Count == 0)
            return line.Add("nothing");
        line.Add(string.Join(", ", asked.Select(advice => advice.Ask == Ask.Shed
            ? Invariant($"{advice.Slip} {advice.Amps:0.#} A off") : $"{advice.Slip} {advice.Ask.Word()}")));
        return step.Advice.NotEnough.Count > 0 ? line.Add("   not enough", Tone.Bad) : line;
    }

    IEnumerable<ScreenLine> Alarms(SiteView view, int lines)
    {
        var standing = view.Standing.ToList();
        var active = standing.Where(alarm => alarm.State.IsActive()).ToList();
        var over = standing.Count(alarm => alarm.State == AlarmState.ReturnedUnacknowledged);
        yield return new ScreenLine(
                Invariant($"alarms: {active.Count} standing, {over} over but not seen, {standing.Count - active.Count - over} aside"),
                active.Count > 0 ? Tone.Strong : Tone.Quiet)
            .Add(view.Docks.Values.Any(step => step.Flow.Flooded != Audience.None) ? "  FLOOD" : "", Tone.Bad)
            .Add("  " + RateWords.Now(view.Rates), Tone.Quiet);
        // One line for each kind, with the most pressing of it: the view has them in that order.
        var kinds = active.GroupBy(alarm => alarm.Kind).ToList();
        for (var at = 0; at < lines; at++)
            yield return at < kinds.Count ? Line([.. kinds[at]]) : new();
    }

    ScreenLine Line(IReadOnlyList<Alarm> same)
    {
        var alarm = same[0];
        var (mark, tone) = alarm.Priority switch
        {
            Priority.High => ("!!!", Tone.Bad),
            Priority.Medium => ("!! ", Tone.Low),
            _ => ("!  ", Tone.Plain),
        };
        return new ScreenLine($"{mark} {alarm.Kind.Word()}{(same.Count > 1 ? $" ×{same.Count}" : "")} ", tone)
            .Add(Invariant($"{showing.Local(alarm.Since):HH:mm} "))
            .Add(alarm.Place.Slip is { } slip ? $"slip {slip}: " : "", Tone.Strong)
            .Add(alarm.Message);
    }
}
