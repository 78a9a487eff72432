using Farberth.Service.Access;
using Farberth.Service.Acting;
using Farberth.Service.Loop;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>What people do about alarms and boats.</summary>
static class ActionPages
{
    public static void Map(IEndpointRouteBuilder api)
    {
        var alarm = api.MapGroup("/alarms/{alarm}");
        alarm.MapPost("/acknowledge", (string alarm, HttpContext by, Actions actions, AlarmAnswers answers) => answers.Give(alarm, actions.Acknowledge(alarm, Name(by))))
            .Acts(Policies.Alarms, "Say that an alarm has been seen");
        alarm.MapPost("/shelve", (string alarm, ShelfAsked asked, HttpContext by, Actions actions, AlarmAnswers answers) =>
                answers.Give(alarm, actions.Shelve(alarm, Name(by), asked.Until, asked.Reason)))
            .Acts(Policies.Alarms, "Put an alarm aside for a while: of high priority 1 h at most, of others 12 h, of dangers to life never");
        alarm.MapPost("/unshelve", (string alarm, HttpContext by, Actions actions, AlarmAnswers answers) => answers.Give(alarm, actions.Unshelve(alarm, Name(by))))
            .Acts(Policies.Alarms, "Take an alarm off the shelf");
        alarm.MapPost("/out-of-service", (string alarm, ReasonAsked asked, HttpContext by, Actions actions, AlarmAnswers answers) =>
                answers.Give(alarm, actions.OutOfService(alarm, Name(by), asked.Reason)))
            .Acts(Policies.Alarms, "Take an alarm out of service for maintenance");
        alarm.MapPost("/return-to-service", (string alarm, HttpContext by, Actions actions, AlarmAnswers answers) => answers.Give(alarm, actions.ReturnToService(alarm, Name(by))))
            .Acts(Policies.Alarms, "Return an alarm to service");
        api.MapPost("/slips/{slip}/boat", async (string slip, BoatAsked asked, HttpContext by, Actions actions) =>
                AlarmAnswers.Problem(await actions.BoatPresent(slip, asked.Present, Name(by)).ConfigureAwait(false)) is { } problem ? problem : Results.NoContent())
            .Acts(Policies.Stays, "Say whether a boat lies in a slip").Produces(StatusCodes.Status204NoContent);
    }

    static string Name(HttpContext context) => context.User.Identity?.Name ?? "nobody";

    static void Answers(this RouteHandlerBuilder endpoint) => endpoint.ProducesProblem(StatusCodes.Status404NotFound)
        .ProducesProblem(StatusCodes.Status409Conflict).ProducesProblem(StatusCodes.Status503ServiceUnavailable);

    static RouteHandlerBuilder Acts(this RouteHandlerBuilder endpoint, string policy, string summary)
    {
        endpoint.Changes(policy, summary).Answers();
        return endpoint;
    }
}

/// <param name="Until">When it comes back by itself.</param>
public sealed record ShelfAsked(DateTimeOffset Until, string Reason);

public sealed record ReasonAsked(string Reason);

public sealed record BoatAsked(bool Present);

/// <param name="Alarm">As it is after that; null: it is normal.</param>
/// <param name="Note">Null where there is nothing to say.</param>
public sealed record ActionDone(AlarmShown? Alarm, string? Note);

/// <summary>What somebody is told who did something about an alarm.</summary>
sealed class AlarmAnswers(LatestView latest, Showing showing)
{
    public async Task<Results<Ok<ActionDone>, ProblemHttpResult>> Give(string alarm, Task<Answer> acting)
    {
        var answer = await acting.ConfigureAwait(false);
        if (Problem(answer) is { } problem)
            return problem;
        var standing = latest.Value.Standing.FirstOrDefault(one => one.Id == alarm);
        return TypedResults.Ok(new ActionDone(standing is null ? null : showing.Alarm(standing), answer.Why?.ToString()));
    }

    /// <summary>Null where it was done, or will be.</summary>
    public static ProblemHttpResult? Problem(Answer answer) => answer.Kind switch
    {
        AnswerKind.Wrong => Problems.Wrong($"{answer.Why}"),
        AnswerKind.Unknown => Problems.Unknown($"{answer.Why}"),
        AnswerKind.NotAllowed => Problems.NotAllowed($"{answer.Why}"),
        AnswerKind.NotNow => Problems.NotNow($"{answer.Why}"),
        _ => null,
    };
}
