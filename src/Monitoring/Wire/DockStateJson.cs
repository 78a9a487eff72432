using System.Text.Json;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Wire;

/// <summary>A dock's state as others read it.</summary>
public static class DockStateJson
{
    public static byte[] Of(DockStep step) => WireJson.Object(writer =>
    {
        var estimate = step.Picture.Estimate;
        writer.Time("time", estimate.Time);
        writer.WriteString("dock", step.Picture.Dock.Name);
        writer.Legs("source", estimate.SourceVolts, 2);
        if (estimate.TransformerLoad is { } load)
            writer.Nested("transformer", () =>
            {
                writer.Number("kva", estimate.SourceKilovoltAmperes, 2);
                writer.Number("load", load, 3);
                writer.Number("hot-spot", step.Picture.Transformer?.HotSpotCelsius ?? double.NaN, 1);
                writer.Number("ageing", step.Picture.Transformer?.Ageing ?? double.NaN, 3);
            });
        if (estimate.Unobserved.Count > 0)
            writer.Nested("unobserved", () => WriteUnobserved(writer, estimate.Unobserved));
        writer.Nested("fit", () =>
        {
            writer.Number("chi-square", estimate.Fit.SquaredResiduals, 1);
            writer.Number("degrees", estimate.Fit.Degrees, 0);
            writer.Number("chance", estimate.Fit.Chance, 4);
        });
        writer.Nested("pedestals", () => WriteAll(writer, estimate.Pedestals, Write));
        writer.Nested("cables", () => WriteAll(writer, estimate.Cables, Write));
        writer.Nested("alarms", () => WriteAlarms(writer, step));
    });

    static void WriteAlarms(Utf8JsonWriter writer, DockStep step)
    {
        int Count(Func<Alarm, bool> which) => step.Standing.Count(which);
        writer.WriteNumber("standing", Count(alarm => alarm.State.IsActive()));
        writer.WriteNumber("returned", Count(alarm => alarm.State == AlarmState.ReturnedUnacknowledged));
        writer.WriteNumber("suppressed", Count(alarm => alarm.State == AlarmState.Suppressed));
        writer.WriteNumber("shelved", Count(alarm => alarm.State == AlarmState.Shelved));
        writer.WriteNumber("out-of-service", Count(alarm => alarm.State == AlarmState.OutOfService));
        writer.WriteNumber("held-back", Count(alarm => alarm.HeldBackFrom != Audience.None));
        writer.WriteNumber("raised-in-10-minutes", step.Flow.RaisedIn10Minutes);
        writer.WriteBoolean("flood", step.Flow.Flooded != Audience.None);
    }

    static void WriteAll<T>(Utf8JsonWriter writer, IReadOnlyDictionary<string, T> all, Action<Utf8JsonWriter, T> write)
    {
        foreach (var (name, one) in all.OrderBy(pair => pair.Key, StringComparer.Ordinal))
            writer.Nested(name, () => write(writer, one));
    }

    static void WriteUnobserved(Utf8JsonWriter writer, IReadOnlyList<UnobservedPedestal> all)
    {
        foreach (var one in all.OrderBy(one => one.Pedestal, StringComparer.Ordinal))
        {
            writer.WriteStartArray(one.Pedestal);
            if (one.Volts)
                writer.WriteStringValue("volts");
            if (one.Amps)
                writer.WriteStringValue("amps");
            writer.WriteEndArray();
        }
    }

    static void Write(Utf8JsonWriter writer, PedestalEstimate pedestal)
    {
        foreach (var leg in pedestal.Volts.Legs)
            writer.Nested(leg.ToString(), () =>
            {
                writer.Number("volts", pedestal.Volts[leg], 2);
                writer.Number("sd", pedestal.VoltsSd[leg], 3);
                writer.Number("amps", pedestal.Amps[leg], 2);
                writer.Number("amps-sd", pedestal.AmpsSd[leg], 2);
            });
    }

    static void Write(Utf8JsonWriter writer, CableEstimate cable)
    {
        writer.Number("load", cable.Load, 3);
        foreach (var leg in cable.Amps.Legs)
            writer.Nested(leg.ToString(), () =>
            {
                writer.Number("amps", cable.Amps[leg], 2);
                writer.Number("amps-sd", cable.AmpsSd[leg], 2);
                writer.Number("drop", cable.DropVolts[leg], 3);
            });
    }
}
