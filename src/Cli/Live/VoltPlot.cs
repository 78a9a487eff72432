using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Service.Views;
using static System.FormattableString;

namespace Farberth.Cli.Live;

/// <summary>
/// Volts along a dock in characters: a column for each pedestal, run after run, in it the number of each leg at the height
/// of its volts; the bands as dotted lines; below, each pedestal's name and its lowest leg in figures.
/// </summary>
sealed class VoltPlot(SiteDefinition site, DockStep step, DockDistances along, int width, int rows)
{
    const int AxisWidth = 7;

    readonly VoltageBands bands = site.Limits.Volts;
    readonly int columnWidth = Math.Clamp((width - AxisWidth - along.Runs.Count + 1) / Math.Max(1, along.Pedestals.Count), 1, 5);

    public IEnumerable<ScreenLine> Lines()
    {
        yield return new ScreenLine("volts of each leg, pedestal by pedestal from the source outwards: "
            + string.Join(", ", site.Supply.Legs.Select(leg => $"{(int)leg + 1} = {leg}")), Tone.Quiet);
        var (bottom, top) = Range();
        var perRow = (top - bottom) / (rows - 1);
        int RowOf(double volts) => (int)Math.Round((top - volts) / perRow);
        for (var row = 0; row < rows; row++)
            yield return Row(row, RowOf);
        yield return Each("", name => (name, Tone.Quiet));
        yield return Each("lowest", Lowest);
    }

    (double Bottom, double Top) Range()
    {
        var volts = along.Pedestals.SelectMany(name => Volts(name).Legs.Select(leg => Volts(name)[leg]))
            .Where(value => value > bands.LowB / 2).DefaultIfEmpty(site.Supply.NominalVolts).ToList();
        return (Math.Floor(Math.Min(bands.LowB - 1, volts.Min() - 1)),
            Math.Ceiling(Math.Max(step.Picture.Dock.Source.NoLoadVolts + 1, volts.Max())));
    }

    ScreenLine Row(int row, Func<double, int> rowOf)
    {
        var limit = row == rowOf(bands.LowA) ? Axis("A", bands.LowA) : row == rowOf(bands.LowB) ? Axis("B", bands.LowB)
            : row == rowOf(bands.HighA) ? Axis("A", bands.HighA) : null;
        var label = limit ?? (row == rowOf(site.Supply.NominalVolts) ? Axis(" ", site.Supply.NominalVolts) : "");
        var blank = limit is null ? ' ' : '·';
        var line = new ScreenLine(label.PadRight(AxisWidth), Tone.Quiet);
        for (var at = 0; at < along.Runs.Count; at++)
        {
            line.Add(at > 0 ? " " : "");
            foreach (var name in along.Runs[at])
                Cell(line, name, row, rowOf, blank);
        }
        return line;
    }

    static string Axis(string band, double volts) => Invariant($"{volts,5:0.#} {band}");

    void Cell(ScreenLine line, string name, int row, Func<double, int> rowOf, char blank)
    {
        var volts = Volts(name);
        var at = 0;
        foreach (var leg in volts.Legs.Where(leg => leg != Leg.N && rowOf(volts[leg]) == row).Take(columnWidth))
        {
            line.Add(new string(blank, Math.Max(0, Math.Min((int)leg, columnWidth - 1) - at)), Tone.Quiet);
            line.Add(((int)leg + 1).ToString(System.Globalization.CultureInfo.InvariantCulture), ToneOf(volts[leg]));
            at = Math.Min((int)leg, columnWidth - 1) + 1;
        }
        line.Add(new string(blank, Math.Max(0, columnWidth - at)), Tone.Quiet);
    }

    ScreenLine Each(string label, Func<string, (string Text, Tone Tone)> cell)
    {
        var line = new ScreenLine(label.PadRight(AxisWidth), Tone.Quiet);
        for (var at = 0; at < along.Runs.Count; at++)
        {
            line.Add(at > 0 ? " " : "");
            foreach (var (text, tone) in along.Runs[at].Select(cell))
                line.Add((text.Length > columnWidth - 1 ? text[..Math.Max(1, columnWidth - 1)] : text).PadRight(columnWidth), tone);
        }
        return line;
    }

    (string Text, Tone Tone) Lowest(string name)
    {
        var volts = Volts(name);
        var lowest = volts.Legs.Where(leg => leg != Leg.N).Select(leg => volts[leg]).DefaultIfEmpty(0).Min();
        var mark = step.Picture.Image.Pedestals[name].IsFresh ? "" : "?";
        return (Invariant($"{lowest:0}") + mark, ToneOf(lowest));
    }

    /// <summary>Measured where fresh, else computed.</summary>
    PerLeg Volts(string name) => step.Picture.Image.Pedestals[name] is { IsFresh: true, Latest: { } reading }
        ? reading.Volts : step.Picture.Estimate.Pedestals[name].Volts;

    Tone ToneOf(double volts) => volts < bands.LowB || volts > bands.HighB ? Tone.Bad
        : volts < bands.LowA || volts > bands.HighA ? Tone.Low : Tone.Plain;
}
