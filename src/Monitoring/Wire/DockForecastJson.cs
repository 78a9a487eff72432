using System.Text.Json;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Wire;

/// <summary>A dock's next 24 hours as others read them.</summary>
public static class DockForecastJson
{
    /// <summary>Outlets are many: 5, 50 and 95 % of each.</summary>
    static readonly IReadOnlyList<double> OutletLevels = [0.05, 0.50, 0.95];

    public static byte[] Of(DockForecast forecast, string dock, VoltageBands bands) => WireJson.Object(writer =>
    {
        writer.Time("time", forecast.Time);
        writer.WriteString("dock", dock);
        writer.Number("learned", forecast.LearnedShare, 2);
        writer.Nested("sag", () => Write(writer, forecast.Sag, bands));
        writer.Numbers("levels", Quantiles.Levels, 2);
        writer.WriteStartArray("hours");
        foreach (var hour in forecast.Hours)
            Write(writer, hour);
        writer.WriteEndArray();
        writer.Numbers("outlet-levels", OutletLevels, 2);
        writer.Nested("outlets", () => WriteOutlets(writer, forecast));
    });

    static void Write(Utf8JsonWriter writer, SagChance sag, VoltageBands bands)
    {
        writer.Number("limit", bands.LowA, 1);
        writer.Number("chance", sag.BelowA, 3);
        writer.Number("limit-b", bands.LowB, 1);
        writer.Number("chance-b", sag.BelowB, 3);
        if (sag.Worst is not { } worst)
            return;
        writer.Time("time", worst.Until);
        writer.WriteString("pedestal", worst.Pedestal);
        writer.WriteString("leg", worst.Leg.ToString());
    }

    static void Write(Utf8JsonWriter writer, DockAhead hour)
    {
        writer.WriteStartObject();
        writer.Time("time", hour.Until);
        writer.WriteNumber("minutes", hour.MinutesAhead);
        writer.WriteString("pedestal", hour.Pedestal);
        writer.WriteString("leg", hour.Leg.ToString());
        writer.Numbers("volts", hour.Volts.Values, 2);
        writer.Numbers("kva", hour.KilovoltAmperes.Values, 2);
        writer.Nested("amps", () =>
        {
            foreach (var (leg, amps) in hour.Amps.OrderBy(pair => pair.Key))
                writer.Numbers(leg.ToString(), amps.Values, 1);
        });
        writer.WriteEndObject();
    }

    /// <summary>Pedestal, outlet, leg: for each hour the amps at <see cref="OutletLevels"/>.</summary>
    static void WriteOutlets(Utf8JsonWriter writer, DockForecast forecast)
    {
        foreach (var pedestal in forecast.Outlets.GroupBy(pair => pair.Key.Pedestal).OrderBy(group => group.Key, StringComparer.Ordinal))
            writer.Nested(pedestal.Key, () =>
            {
                foreach (var (key, outlet) in pedestal.OrderBy(pair => pair.Key.Outlet, StringComparer.Ordinal))
                    writer.Nested(key.Outlet, () => Write(writer, outlet));
            });
    }

    static void Write(Utf8JsonWriter writer, OutletForecast outlet)
    {
        foreach (var (leg, horizons) in outlet.ByLeg.OrderBy(pair => pair.Key))
        {
            writer.WriteStartArray(leg.ToString());
            foreach (var amps in horizons)
                writer.Numbers(null, OutletLevels.Select(amps.At), 1);
            writer.WriteEndArray();
        }
    }
}
