using System.Text.Json.Nodes;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service.Journaling;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>What stands, and how it came to that.</summary>
static class AlarmPages
{
    /// <summary>Of any list of alarms; a site with more has other worries.</summary>
    public const int Most = 1000;

    const int MostSteps = 100;

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/alarms", Standing).Asks("Every alarm that is not normal, the most pressing first");
        api.MapGet("/alarms/{alarm}", One).Asks("One alarm with its evidence and its steps, the latest first")
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status503ServiceUnavailable);
    }

    static Ok<IReadOnlyList<AlarmShown>> Standing(string? dock, string? slip, LatestView latest, Showing showing) => TypedResults.Ok<IReadOnlyList<AlarmShown>>(
    [
        .. latest.Value.Standing.Where(alarm => (dock is null || alarm.Place.Dock == dock) && (slip is null || alarm.Place.Slip == slip))
            .Take(Most).Select(showing.Alarm),
    ]);

    static Results<Ok<AlarmWhole>, ProblemHttpResult> One(string alarm, long? before, SiteDefinition site, LatestView latest, Showing showing, JournalSetup setup)
    {
        if (!AlarmAddress.Exists(site, alarm))
            return Problems.Unknown("The site can have no alarm of that name.");
        try
        {
            var page = setup.Journal?.History(new() { AlarmId = alarm, Before = before, Limit = MostSteps });
            var steps = page?.Events.OfType<AlarmStepped>().Select(stepped => stepped.Transition)
                ?? latest.Value.History.Last.Where(transition => transition.Alarm.Id == alarm).Reverse().Take(MostSteps);
            var standing = latest.Value.Standing.FirstOrDefault(one => one.Id == alarm);
            return TypedResults.Ok(new AlarmWhole(
                alarm, standing is null ? null : showing.Alarm(standing), standing?.Evidence.DeepClone().AsObject(), [.. steps.Select(AlarmStepShown.Of)], page?.Next));
        }
        catch (JournalException e)
        {
            return Problems.NotNow(e.Message);
        }
    }
}

/// <param name="Standing">Null: it is normal now.</param>
/// <param name="Evidence">The numbers it rests on.</param>
/// <param name="Next">Where the next page of steps begins: the parameter "before"; null: there is none.</param>
public sealed record AlarmWhole(string Id, AlarmShown? Standing, JsonObject? Evidence, IReadOnlyList<AlarmStepShown> Steps, long? Next);

/// <param name="Reason">The condition, or who did it.</param>
public sealed record AlarmStepShown(DateTimeOffset At, string From, string To, string Priority, string Reason, string Message)
{
    public static AlarmStepShown Of(AlarmTransition transition) => new(
        transition.At, transition.From.Word(), transition.Alarm.State.Word(), transition.Alarm.Priority.ToString().ToLowerInvariant(), transition.Reason,
        transition.Alarm.Message);
}
