using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Wire;
using Farberth.Service.Journaling;
using Farberth.Service.Telling;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Farberth.Service.Api;

/// <summary>What the journal holds, over HTTP.</summary>
static class JournalPages
{
    static readonly JsonSerializerOptions Writing = new() { PropertyNamingPolicy = JsonNamingPolicy.KebabCaseLower };

    public static void Map(IEndpointRouteBuilder api)
    {
        api.MapGet("/journal", State).Asks("How the journal does, and how many notices wait").Produces<JsonObject>();
        api.MapGet("/journal/events", Events).Asks("What happened, the latest first, a page at a time: alarms' steps and what was asked of slips")
            .Produces<JsonObject>().ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status503ServiceUnavailable);
    }

    static IResult State(JournalKeeper keeper, Teller teller) =>
        Results.Json(new { Journal = keeper.State, ToTell = teller.Waiting }, Writing);

    static IResult Events(
        JournalSetup setup, string? alarm, string? slip, string? dock, DateTimeOffset? from, DateTimeOffset? to, long? before, int? limit)
    {
        if (setup.Journal == null)
            return Problems.Unknown("No journal is kept.");
        try
        {
            var page = setup.Journal.History(new() { AlarmId = alarm, Slip = slip, Dock = dock, From = from, To = to, Before = before, Limit = limit ?? 100 });
            return Results.Json(new { Events = page.Events.Select(Object), page.Next }, Writing);
        }
        catch (JournalException e)
        {
            return Results.Json(new { Away = e.Message }, Writing, statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }

    static JsonNode? Object(JournalEvent happened) => JsonNode.Parse(happened switch
    {
        AlarmStepped { Transition: var transition } => AlarmJson.Of(transition),
        AdviceChanged { Change: var change } => AdviceJson.Of(change),
        _ => "null"u8.ToArray(),
    });
}
