using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Wire;
using Farberth.Service.Journaling;
using Farberth.Service.Telling;
using Microsoft.AspNetCore.Http;

namespace Farberth.Service.Web;

/// <summary>What the journal holds, over HTTP.</summary>
static class JournalPages
{
    static readonly JsonSerializerOptions Writing = new() { PropertyNamingPolicy = JsonNamingPolicy.KebabCaseLower };

    public static IResult State(JournalKeeper keeper, Teller teller) =>
        Results.Json(new { Journal = keeper.State, ToTell = teller.Waiting }, Writing);

    public static IResult Events(
        JournalSetup setup, string? alarm, string? slip, string? dock, DateTimeOffset? from, DateTimeOffset? to, long? before, int? limit)
    {
        if (setup.Journal == null)
            return Results.NotFound();
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
