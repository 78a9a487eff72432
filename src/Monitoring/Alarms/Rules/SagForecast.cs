using System.Text.Json.Nodes;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Words;
using static System.FormattableString;

namespace Farberth.Monitoring.Alarms.Rules;

/// <summary>
/// The lowest volts of a dock will probably leave band A by day within 24 hours. One alarm for a dock: the hour and the pedestal may
/// still move. Silent until the forecast has seen about a day of its own errors.
/// </summary>
sealed class SagForecast : IAlarmRule
{
    /// <summary>Assumed: as likely as not is worth a thought, four times in five worth doing something.</summary>
    const double LimitChance = 0.5;
    const double MediumChance = 0.8;

    const double LeastLearned = 0.3;

    public AlarmKind Kind => AlarmKind.SagForecast;

    public IEnumerable<Finding> Judge(DockPicture picture)
    {
        var sag = picture.Forecast is { } forecast && forecast.LearnedShare >= LeastLearned ? forecast.Sag : null;
        yield return new Finding(
            new Place(picture.Dock.Name),
            sag?.Worst == null ? -1 : sag.BelowA / LimitChance - 1,
            sag?.BelowA >= MediumChance || sag?.BelowB >= LimitChance
                ? Priorities.Of(Consequence.Damage, 60) : Priorities.Of(Consequence.Service, 4 * 60),
            Audience.Electrician | Audience.Harbormaster,
            () => sag?.Worst is { } worst ? Describe(picture, picture.Forecast!, worst) : new([Sentence.Of("No sag is expected.")], []));
    }

    static Description Describe(DockPicture picture, DockForecast forecast, DockAhead worst)
    {
        var (bands, sag, volts) = (picture.Site.Limits.Volts, forecast.Sag, worst.Volts);
        var local = TimeZoneInfo.ConvertTime(worst.Until, TimeZoneInfo.FindSystemTimeZoneById(picture.Site.TimeZone));
        var hoursAhead = worst.MinutesAhead / 60.0;
        return new(
            [
                Sentence.Of("With a chance of {0:P0} dock {1} falls below {2:0} V within 24 hours.", sag.BelowA, picture.Dock.Name, bands.LowA),
                Sentence.Of(
                    "Most likely about {0}, {1:0.#} h ahead, at pedestal {2} on {3}, to {4:0.0} V (nine times in ten from {5:0.0} to {6:0.0} V).",
                    Invariant($"{local:HH:mm}"), hoursAhead, worst.Pedestal, worst.Leg, volts.Median, volts.Values[0], volts.Values[^1]),
                Sentence.Of("Ask boats to heat water and charge before or after, and give no slip at the far end to one more air conditioner."),
            ],
            new JsonObject
            {
                ["chance"] = Math.Round(sag.BelowA, 2),
                ["limit"] = bands.LowA,
                ["chance-b"] = Math.Round(sag.BelowB, 2),
                ["limit-b"] = bands.LowB,
                ["time"] = worst.Until.ToString("O"),
                ["hours-ahead"] = Math.Round(hoursAhead, 2),
                ["pedestal"] = worst.Pedestal,
                ["leg"] = worst.Leg.ToString(),
                ["volts"] = Math.Round(volts.Median, 1),
                ["volts-5"] = Math.Round(volts.Values[0], 1),
                ["volts-95"] = Math.Round(volts.Values[^1], 1),
                ["learned"] = Math.Round(forecast.LearnedShare, 2),
            });
    }
}
