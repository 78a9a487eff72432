using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Service.Words;

namespace Farberth.Service.Boater;

/// <summary>
/// What the page says, in the reader's language. It is put together from what the monitor asks and not from the monitor's own sentences:
/// those give their reason with the name of a cable or of another pedestal, and this page names nobody else's.
/// </summary>
public sealed class BoaterText(WordBook words, Writing write, SlipNow slip, SiteDefinition site)
{
    /// <summary>What the alarm asks stands in the request already.</summary>
    static readonly IReadOnlyDictionary<Ask, IReadOnlyList<AlarmKind>> SaidBy = new Dictionary<Ask, IReadOnlyList<AlarmKind>>
    {
        [Ask.Unplug] = [AlarmKind.Leakage, AlarmKind.ConnectorHeating, AlarmKind.OpenNeutral],
        [Ask.ShoreLost] = [AlarmKind.SupplyLost],
        [Ask.CheckBreaker] = [AlarmKind.NoDraw],
        [Ask.Shed] = [AlarmKind.Overload],
        [Ask.SecondCord] = [AlarmKind.Overload],
    };

    readonly RequestText requests = new(words, write, site);

    double Nominal => site.Supply.NominalVolts;

    public static string Headline(WordBook words, Verdict verdict) => $"{words[$"standing.{verdict.Standing}"]}: {words[verdict.Why].TrimEnd('.')}.";

    /// <summary>One paragraph each, the most pressing first; never empty.</summary>
    public IReadOnlyList<string> Now()
    {
        List<string> all =
        [
            .. slip.Asked is { } asked ? requests.Request(asked) : [],
            .. slip.Alarms.Where(alarm => slip.Asked is not { } said || !SaidBy[said.Ask].Contains(alarm.Kind))
                .Select(alarm => requests.Do(alarm.Kind)).Distinct(),
            .. Limits(),
            .. slip.Fault == null ? Array.Empty<string>() : [words["fault.do"]],
        ];
        return all.Count > 0 ? all : [words["do.nothing"]];
    }

    /// <summary>Things that take as much as is to be switched off.</summary>
    public IReadOnlyList<string> SoMuchIs() => slip.Asked switch
    {
        { Ask: Ask.Shed or Ask.SecondCord, Amps: var amps } => Things(Appliances.About(amps, Nominal)),
        null when TooMuch().Select(outlet => -outlet.Risk!.HeadroomAmps).DefaultIfEmpty().Max() is > 0 and var amps => Things(Appliances.About(amps, Nominal)),
        _ => [],
    };

    public IReadOnlyList<string> AllThings() => Things(Appliances.All(Nominal));

    public string Fault(SlipFault fault, DateTimeOffset? ticked) => words[
        Verdict.Key(fault), fault == SlipFault.StandsStill && ticked is { } at ? write.Moment(at, slip.Now)
            : write.Span(slip.Outlets.Select(outlet => outlet.SilentFor).DefaultIfEmpty().Max())];

    /// <summary>Of the outlet alone: who is asked to switch off for the dock's sake has none, whatever his outlet could carry.</summary>
    public string Room(OutletNow outlet) => outlet.Risk!.HeadroomAmps switch
    {
        < 0 and var room => words["room.none", write.Number(Math.Ceiling(-room))],
        _ when slip.Asked is { Ask: Ask.Shed or Ask.SecondCord or Ask.Unplug } => words["room.asked"],
        var room when Appliances.Within(room, Nominal) is { } fits =>
            words["room.some", write.Number(Math.Floor(room)), words[fits.Name], write.Number(fits.Amps)],
        var room => words["room.little", write.Number(Math.Floor(room))],
    };

    public string Sag() => slip.Sag is not { Worst: { } worst } sag ? ""
        : words["ahead.sag", write.Moment(worst.Until, slip.Now), write.Number(Math.Clamp(Math.Round(10 * sag.BelowA), 1, 9))];

    public string Past(Episode one)
    {
        var what = one.Asked is { } asked ? words[$"asked.{asked.Ask.Word()}", write.Number(asked.Amps, 1)] : requests.What(one.Alarm!);
        var from = write.DayAndTime(one.From);
        return one.To is not { } to ? words["past.on", from, what]
            : one.Asked != null ? words["past.ended", from, what, write.Moment(to, one.From)]
            : words["past.over", from, what, write.Span(to - one.From)];
    }

    /// <summary>What the volts and amps say where nothing is asked and no alarm has come of it yet.</summary>
    IEnumerable<string> Limits()
    {
        if (slip.Asked == null)
            foreach (var outlet in TooMuch())
                yield return words[
                    "do.over-hours", outlet.Key.Outlet, write.Number(outlet.Risk!.Amps, 1), write.Number(outlet.Risk.ContinuousAmps, 1),
                    write.Number(Math.Ceiling(-outlet.Risk.HeadroomAmps))];
        var levels = slip.Outlets.Where(outlet => outlet.IsFresh).SelectMany(outlet => outlet.Volts).Select(leg => leg.Level).ToHashSet();
        if (levels.Contains(Level.Low) || levels.Contains(Level.TooLow))
            yield return words["do.volts-low"];
        if (levels.Contains(Level.High) || levels.Contains(Level.TooHigh))
            yield return words["do.volts-high"];
    }

    IEnumerable<OutletNow> TooMuch() => slip.Outlets.Where(outlet => outlet is { IsFresh: true, Risk.HeadroomAmps: < 0 });

    List<string> Things(IEnumerable<Appliance> appliances) => [.. appliances.Select(one => words["takes", words[one.Name], write.Number(one.Amps)])];
}
