using System.Text.Json.Nodes;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>The dock's transformer carries more than its rating.</summary>
sealed class TransformerOverload : IAlarmRule
{
    public AlarmKind Kind => AlarmKind.TransformerOverload;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        if (picture.Dock.Source.Transformer is not { } transformer || picture.Estimate.TransformerLoad is not { } load)
            yield break;
        var (kilovoltAmperes, rating) = (picture.Estimate.SourceKilovoltAmperes, transformer.RatingVoltAmperes / 1000);
        yield return new Finding(
            new Place(picture.Dock.Name),
            load - 1,
            load > 1.2 ? Priority.High : Priority.Medium,
            Audience.Electrician | Audience.Harbormaster,
            () => new(
                Invariant($"The transformer of dock {picture.Dock.Name} carries {kilovoltAmperes:0} kVA; it is rated {rating:0.#} kVA. It ages fast in this heat: take load off the dock."),
                new JsonObject { ["kva"] = Math.Round(kilovoltAmperes, 1), ["limit"] = rating, ["load"] = Math.Round(load, 3) }));
    }
}
