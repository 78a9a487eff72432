using Farberth.Service.Views;

namespace Farberth.Service.Office.Plan;

/// <summary>Where a dock's pedestals stand in its drawing: one column each from the source outwards, a branch in a row below its root.</summary>
public sealed class DockDrawing
{
    public const double Column = 46, Row = 84, Left = 110, Top = 64;

    readonly Dictionary<string, (double X, double Y)> places = [];

    public DockDrawing(DockShown dock)
    {
        places["source"] = (Left - Column, Top);
        var rows = new List<double>();
        foreach (var run in dock.Pedestals.GroupBy(pedestal => pedestal.Run))
        {
            var from = places[run.First().Before].X + Column;
            var row = rows.FindIndex(end => end < from);
            if (row < 0)
            {
                row = rows.Count;
                rows.Add(0);
            }
            foreach (var pedestal in run)
            {
                places[pedestal.Name] = (from, Top + row * Row);
                rows[row] = from;
                from += Column;
            }
        }
        Width = places.Values.Max(place => place.X) + Column;
        Height = places.Values.Max(place => place.Y) + 34;
    }

    public double Width { get; }

    public double Height { get; }

    public (double X, double Y) Of(string point) => places[point];

    /// <summary>From a pedestal's predecessor to it: along, or down and along where it begins a branch.</summary>
    public string Path(PedestalShown pedestal)
    {
        var (from, to) = (Of(pedestal.Before), Of(pedestal.Name));
        return FormattableString.Invariant($"M{from.X} {from.Y}V{to.Y}H{to.X}");
    }
}
