using System.Text.Json.Nodes;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;

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
            [
                Sentence.Of("The transformer of dock {0} carries {1:0} kVA; it is rated {2:0.#} kVA.", picture.Dock.Name, kilovoltAmperes, rating),
                Heat(picture.Transformer, transformer.Thermal),
                Sentence.Of("Take load off the dock."),
            ],
            evidence);
    }

    static Sentence Heat(TransformerRisk? risk, TransformerThermal thermal) => risk == null ? Sentence.Of("It ages fast in this heat.") : Sentence.Of(
        "By its load and the air its winding is at about {0:0} °C, where {1:0} °C is the limit, and ages at {2:0.0#} times the normal rate.",
        risk.HotSpotCelsius, thermal.HotSpotLimitCelsius, risk.Ageing);

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
