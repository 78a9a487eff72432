using System.Globalization;

namespace Farberth.Service.Views;

/// <summary>A dock's survey as tables of comma-separated values (RFC 4180), for a spreadsheet: the first row names the columns, with their units.</summary>
public static class SurveyTable
{
    /// <summary>One row a pedestal and leg.</summary>
    public static string Pedestals(DockShown dock) => Table(
        ["pedestal", "metres", "leg", "volts measured", "volts computed", "sd volts", "amps"],
        from pedestal in dock.Pedestals
        from leg in pedestal.Computed.Keys.Union(pedestal.Measured.Keys).Order(StringComparer.Ordinal)
        let point = ProfilePoint.Of(pedestal, leg)
        select (object?[])[point.Pedestal, point.Metres, leg, point.Measured, point.Computed, point.Sd, point.Amps]);

    /// <summary>One row a cable and conductor, the most loaded cable first.</summary>
    public static string Cables(DockShown dock) => Table(
        ["from", "to", "metres", "conductor", "leg", "amps", "drop volts", "ampacity amps", "share of ampacity"],
        from cable in dock.Cables
        from leg in cable.Amps.Keys.Order(StringComparer.Ordinal)
        select (object?[])[cable.From, cable.To, cable.Metres, cable.Conductor, leg, cable.Amps[leg], cable.Drop.TryGetValue(leg, out var drop) ? drop : null, cable.Ampacity, cable.Load]);

    static string Table(IReadOnlyList<string> head, IEnumerable<object?[]> rows) =>
        string.Concat(rows.Prepend([.. head]).Select(row => string.Join(',', row.Select(Field)) + "\r\n"));

    static string Field(object? value) => Convert.ToString(value, CultureInfo.InvariantCulture) is not { } text ? ""
        : text.AsSpan().ContainsAny(",\"\r\n") ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
}
