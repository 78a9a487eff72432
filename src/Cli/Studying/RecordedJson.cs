using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Site;
using Farberth.Planning.Balancing;
using Farberth.Planning.Replays;
using Farberth.Planning.Survey;

namespace Farberth.Cli.Studying;

/// <summary>A recorded study for machines.</summary>
static class RecordedJson
{
    static readonly JsonSerializerOptions Writing = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string Of(SiteDefinition site, IReadOnlyList<RecordedDock> docks) => new JsonObject
    {
        ["site"] = site.Name,
        ["docks"] = new JsonObject(docks.Select(dock => KeyValuePair.Create<string, JsonNode?>(dock.Dock.Name, new JsonObject
        {
            ["survey"] = dock.Survey is { } survey ? Survey(survey) : null,
            ["balance"] = dock.Balance is { } balance ? Balance(balance) : null,
            ["what-if"] = dock.WhatIf is { } whatIf ? WhatIf(whatIf) : null,
        }))),
    }.ToJsonString(Writing);

    static JsonObject Survey(LoadSurvey survey) => new()
    {
        ["first"] = survey.First.ToString("O"),
        ["last"] = survey.Last.ToString("O"),
        ["days"] = Math.Round(survey.Days, 3),
        ["covered"] = Math.Round(survey.CoveredShare, 4),
        ["maximum-kva"] = Math.Round(survey.MaximumVoltAmperes / 1000, 2),
        ["maximum-at"] = survey.MaximumAt.ToString("O"),
        ["maximum-amps"] = Math.Round(survey.MaximumAmps, 1),
        ["maximum-leg"] = survey.MaximumLeg.ToString(),
        ["demand-kva"] = Math.Round(survey.DemandVoltAmperes / 1000, 2),
        ["table-receptacles"] = survey.Table.Receptacles,
        ["table-factor"] = survey.Table.Share * survey.Table.MeterShare,
        ["table-kva"] = Math.Round(survey.Table.VoltAmperes / 1000, 3),
        ["limits"] = new JsonArray([.. survey.Limits.Select(limit => new JsonObject
        {
            ["what"] = limit.What, ["carries"] = Math.Round(limit.Carries, 1), ["used"] = Math.Round(limit.UsedShare, 4),
        })]),
        ["not-covered"] = new JsonArray([.. survey.NotCovered.Select(gap => JsonValue.Create(gap))]),
    };

    static JsonObject Balance(LegBalance balance) => new()
    {
        ["before"] = Over(balance.Before),
        ["steps"] = new JsonArray([.. balance.Steps.Select(step => new JsonObject { ["moves"] = Moves(step), ["after"] = Over(step.After) })]),
        ["advised"] = balance.Advised is { } advised ? Moves(advised) : null,
    };

    static JsonArray Moves(BalanceStep step) => new([.. step.Moves.Select(move => new JsonObject
    {
        ["pedestal"] = move.Pedestal, ["outlet"] = move.Outlet, ["from"] = string.Join('+', move.From), ["to"] = string.Join('+', move.To),
    })]);

    static JsonObject Over(BalanceOverTime at) => new()
    {
        ["lowest-volts"] = Math.Round(at.LowestVolts, 2),
        ["mean-neutral-amps"] = Math.Round(at.MeanNeutralAmps, 2),
        ["most-neutral-amps"] = Math.Round(at.MostNeutralAmps, 1),
        ["mean-imbalance"] = Math.Round(at.MeanImbalanceShare, 4),
        ["lost-kwh"] = Math.Round(at.LossKilowattHours, 2),
    };

    static JsonObject WhatIf(WhatIfResult whatIf) => new()
    {
        ["changes"] = new JsonArray([.. whatIf.Changes.Select(change => JsonValue.Create(ChangeText.Words(change)))]),
        ["boats-placed"] = whatIf.BoatsPlaced,
        ["before"] = Day(whatIf.Before),
        ["after"] = Day(whatIf.After),
    };

    static JsonObject Day(DayOutcome day) => new()
    {
        ["lowest-volts"] = Math.Round(day.LowestVolts, 2),
        ["at"] = $"{day.Pedestal} {day.Leg}",
        ["when"] = day.When.ToString("O"),
        ["below-band-hours"] = day.BelowBandHours,
        ["overload-hours"] = day.OverloadHours,
        ["most-kva"] = Math.Round(day.MostVoltAmperes / 1000, 2),
        ["lost-kwh"] = Math.Round(day.LossKilowattHours, 2),
    };
}
