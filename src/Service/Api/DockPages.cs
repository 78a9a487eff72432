using System.Globalization;
using System.Text;
using Farberth.Monitoring.Site;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>A dock, now or at a moment of the past.</summary>
static class DockPages
{
    public static void Map(IEndpointRouteBuilder api)
    {
        var dock = api.MapGroup("/docks/{dock}").ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound)
            .ProducesProblem(StatusCodes.Status503ServiceUnavailable);
        dock.MapGet("", (string dock, DateTimeOffset? at, DockAnswers answers, Showing showing, CancellationToken gone) =>
                answers.Give(dock, at, (moment, shown) => new DockAt(moment.At, moment.IsPast, shown, [.. moment.Step.Standing.Take(AlarmPages.Most).Select(showing.Alarm)], moment.Without), gone))
            .Asks("A dock's state, now or at a moment of the past");
        dock.MapGet("/profile", (string dock, DateTimeOffset? at, DockAnswers answers, CancellationToken gone) => answers.Give(dock, at, DockProfile.Of, gone))
            .Asks("The volts along a dock by leg, measured and computed, now or at a moment of the past");
        dock.MapGet("/pedestals.csv", (string dock, DateTimeOffset? at, DockAnswers answers, CancellationToken gone) => answers.Table(dock, at, "pedestals", SurveyTable.Pedestals, gone))
            .Asks("The same as a table, one row a pedestal and leg").Produces<string>(contentType: DockAnswers.Csv);
        dock.MapGet("/cables.csv", (string dock, DateTimeOffset? at, DockAnswers answers, CancellationToken gone) => answers.Table(dock, at, "cables", SurveyTable.Cables, gone))
            .Asks("The cables as a table: drop and share of the ampacity, one row a conductor").Produces<string>(contentType: DockAnswers.Csv);
        dock.MapGet("/forecast", Forecast).Asks("What a dock is expected to do in the next 24 hours");
    }

    static Results<Ok<ForecastShown>, ProblemHttpResult> Forecast(string dock, SiteDefinition site, LatestView latest) =>
        !site.Docks.ContainsKey(dock) ? Problems.Unknown($"The site file has no dock {dock}.")
            : latest.Value.Docks.GetValueOrDefault(dock)?.Picture.Forecast is { } forecast ? TypedResults.Ok(ForecastShown.Of(forecast, dock, site.Limits.Volts))
            : Problems.Unknown("There is no forecast yet: the first comes with the first whole quarter of an hour.");
}

/// <param name="Past">It was worked out from the history.</param>
/// <param name="Alarms">All that were not normal then.</param>
/// <param name="Without">What is not in it, in words.</param>
public sealed record DockAt(DateTimeOffset At, bool Past, DockShown Dock, IReadOnlyList<AlarmShown> Alarms, IReadOnlyList<string> Without);

/// <summary>Finds the moment that was asked for, or says why there is none.</summary>
sealed class DockAnswers(SiteDefinition site, DockMoments moments, Showing showing, Past past, TimeProvider clock)
{
    public const string Csv = "text/csv";

    public async Task<Results<Ok<T>, ProblemHttpResult>> Give<T>(string dock, DateTimeOffset? at, Func<DockMoment, DockShown, T> show, CancellationToken gone)
    {
        var (moment, problem) = await Find(dock, at, gone).ConfigureAwait(false);
        return moment is null ? problem! : TypedResults.Ok(show(moment, showing.Dock(moment.Step)));
    }

    public async Task<IResult> Table(string dock, DateTimeOffset? at, string what, Func<DockShown, string> table, CancellationToken gone)
    {
        var (moment, problem) = await Find(dock, at, gone).ConfigureAwait(false);
        return moment is null ? problem! : TypedResults.File(
            Encoding.UTF8.GetBytes(table(showing.Dock(moment.Step))), Csv + "; charset=utf-8",
            string.Create(CultureInfo.InvariantCulture, $"{site.Name}-{dock}-{what}-{moment.At.UtcDateTime:yyyyMMdd'T'HHmmss'Z'}.csv"));
    }

    async Task<(DockMoment? Moment, ProblemHttpResult? Problem)> Find(string dock, DateTimeOffset? at, CancellationToken gone)
    {
        if (!site.Docks.ContainsKey(dock))
            return (null, Problems.Unknown($"The site file has no dock {dock}."));
        if (at > clock.GetUtcNow())
            return (null, Problems.Wrong("That moment is still to come."));
        if (at is not null && !past.IsKept)
            return (null, Problems.Unknown("No history is kept."));
        try
        {
            return await moments.Of(dock, at, gone).ConfigureAwait(false) switch
            {
                null => (null, Problems.NotNow("Nothing has been judged yet.")),
                { Readings: 0 } => (null, Problems.Unknown("Nothing is kept of that time.")),
                var moment => (moment, null),
            };
        }
        catch (IOException e)
        {
            return (null, Problems.NotNow(e.Message));
        }
    }
}
