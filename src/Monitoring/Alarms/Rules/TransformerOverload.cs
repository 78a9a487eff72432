using System.Text.Json.Nodes;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>The dock's transformer carries more than its rating, or its winding's hottest spot is too warm.</summary>
sealed class TransformerOverload : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.TransformerOverload;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        if (picture.Dock.Source.Transformer is not { } transformer || picture.Estimate.TransformerLoad is not { } load)
            yield break;
        var thermal = transformer.Thermal;
        var hotSpot = picture.Transformer?.HotSpotCelsius ?? double.NegativeInfinity;
        yield return new Finding(
            new Place(picture.Dock.Name),
            Math.Max(load, hotSpot / thermal.HotSpotLimitCelsius) - 1,
            Priorities.Of(Consequence.Damage, load > 1.2 || hotSpot > thermal.HotSpotDangerCelsius ? 10 : 60),
            Audience.Electrician | Audience.Harbormaster,
            () => Describe(picture, transformer, load));
    }

    static Description Describe(DockPicture picture, TransformerDefinition transformer, double load)
    {
        var (kilovoltAmperes, rating) = (picture.Estimate.SourceKilovoltAmperes, transformer.RatingVoltAmperes / 1000);
        var evidence = new JsonObject { ["kva"] = Math.Round(kilovoltAmperes, 1), ["limit"] = rating, ["load"] = Math.Round(load, 3) };
        if (picture.Transformer is { } risk)
            Add(evidence, risk, transformer.Thermal);
        return new(
            Invariant($"The transformer of dock {picture.Dock.Name} carries {kilovoltAmperes:0} kVA; it is rated {rating:0.#} kVA. {Heat(picture.Transformer, transformer.Thermal)} Take load off the dock."),
            evidence);
    }

    static string Heat(TransformerRisk? risk, TransformerThermal thermal) => risk == null ? "It ages fast in this heat." : Invariant(
        $"By its load and the air its winding is at about {risk.HotSpotCelsius:0} °C, where {thermal.HotSpotLimitCelsius:0} °C is the limit, and ages at {risk.Ageing:0.0#} times the normal rate.");

    static void Add(JsonObject evidence, TransformerRisk risk, TransformerThermal thermal)
    {
        evidence["hot-spot-celsius"] = Math.Round(risk.HotSpotCelsius, 1);
        evidence["hot-spot-limit"] = thermal.HotSpotLimitCelsius;
        evidence["settles-at"] = Math.Round(risk.SettlesAtCelsius, 1);
        evidence["ageing"] = Math.Round(risk.Ageing, 3);
        evidence["ageing-of-day"] = Math.Round(risk.AgeingOfDay, 3);
        if (risk.TopLiquidCelsius is { } top)
            evidence["top-liquid-celsius"] = Math.Round(top, 1);
    }
}
