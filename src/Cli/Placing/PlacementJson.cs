using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Planning.Placement;

namespace Farberth.Cli.Placing;

/// <summary>A plan for machines.</summary>
static class PlacementJson
{
    public static readonly JsonSerializerOptions Writing = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string Of(SiteDefinition site, PlacementAnswer answer) => new JsonObject
    {
        ["site"] = site.Name,
        ["sag-volts"] = Math.Round(answer.Proof.SagVolts, 2),
        ["sag-bound-volts"] = Math.Round(answer.Proof.BoundVolts, 2),
        ["proven"] = answer.Proof.IsProven,
        ["placed"] = new JsonArray([.. answer.Placed.Select(Placed)]),
        ["moved"] = new JsonArray([.. answer.Moved.Select(Moved)]),
        ["refused"] = new JsonArray([.. answer.Refused.Select(Refused)]),
        ["docks"] = new JsonArray([.. answer.Docks.Select(dock => new JsonObject
        {
            ["dock"] = dock.Dock, ["lowest-volts"] = Math.Round(dock.Under.Volts, 2), ["at"] = dock.Under.Place, ["when"] = dock.Under.When,
            ["before"] = new JsonObject { ["lowest-volts"] = Math.Round(dock.Before.Volts, 2), ["at"] = dock.Before.Place, ["when"] = dock.Before.When },
            ["below-band-before"] = dock.IsBelowBandBefore,
        })]),
    }.ToJsonString(Writing);

    static JsonObject Placed(PlacedBoat boat) => new()
    {
        ["boat"] = boat.Arrival.Boat.Name,
        ["slip"] = boat.Berth.Slip,
        ["outlets"] = Outlets(boat.Berth),
        ["from"] = boat.Arrival.From.ToString("O"),
        ["until"] = boat.Arrival.Until.ToString("O"),
        ["lowest-volts"] = boat.Berth.Dock is null ? null : Math.Round(boat.LowestVolts, 2),
        ["at"] = boat.Place,
        ["when"] = boat.When,
        ["meets-wishes"] = boat.MeetsWishes,
        ["why"] = boat.Why,
    };

    static JsonObject Moved(MovedBoat boat) =>
        new() { ["boat"] = boat.Boat, ["from-slip"] = boat.FromSlip, ["slip"] = boat.Berth.Slip, ["outlets"] = Outlets(boat.Berth) };

    static JsonObject Refused(RefusedBoat boat) => new()
    {
        ["boat"] = boat.Arrival.Boat.Name,
        ["why"] = boat.Why,
        ["slips"] = new JsonArray([.. boat.Slips.Select(Refusal)]),
    };

    public static JsonObject Refusal(SlipRefusal slip) => new() { ["slip"] = slip.Slip, ["reason"] = Word(slip.Reason), ["why"] = $"{slip.Why}" };

    static string Word(SlipRefusalReason reason) => reason switch
    {
        SlipRefusalReason.Power => "power",
        SlipRefusalReason.TakenByArrival => "taken",
        _ => "size-plug-or-stay",
    };

    public static JsonArray Outlets(Berth berth) => new([.. berth.Outlets.Select(outlet => new JsonObject
    {
        ["pedestal"] = outlet.Pedestal, ["outlet"] = outlet.Outlet.Name, ["legs"] = new JsonArray([.. outlet.Outlet.Legs.Select(leg => JsonValue.Create(leg.ToString()))]),
    })]);
}
