using System.Globalization;
using System.Text.Json.Nodes;
using Farberth.HotAfternoon;
using Farberth.Monitoring.Site;

namespace Farberth.Acceptance.Tests.Stories;

/// <summary>
/// A sag that melts a plug in silence. One cord carries two air conditioners at the far end of a dock, through an afternoon on which the far
/// end falls by a tenth. The plug is worn; its breaker is right to carry what it carries. The story is in
/// tests/data/melting-plug/melting-plug.scenario.yaml; what truly happened is asked of the simulator, the rest of the command.
/// </summary>
public class MeltingPlug
{
    const string Scenario = "data/melting-plug/melting-plug.scenario.yaml", Site = "data/melting-plug/plover-reach.site.yaml";
    const string Outlet = "R7.A", AlarmId = "R.R7.A.connector-heating";
    static readonly TimeSpan LeastWarning = TimeSpan.FromMinutes(30);

    /// <summary>In the second, the pedestal at the far end does not measure how warm its contacts are.</summary>
    [Theory]
    [InlineData("")]
    [InlineData("  without-celsius: [R7]\n")]
    public async Task The_dock_is_told_half_an_hour_before_and_asked_for_the_right_thing(string meters)
    {
        using var folder = new TemporaryFolder();
        var text = (await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, Scenario), FarberthCommand.Cancel))
            .Replace("meters:\n", "meters:\n" + meters, StringComparison.Ordinal);
        await File.WriteAllTextAsync(folder["story.scenario.yaml"], text, FarberthCommand.Cancel);
        var truth = WhatHappened(text);
        AssertItIsTheStory(truth);

        var simulated = await FarberthCommand.Run("simulate", folder["story.scenario.yaml"], "--site", Site, "--write", folder["story.ndjson"]);
        var replayed = await FarberthCommand.Run("replay", Site, folder["story.ndjson"], "--alarms", folder["alarms"], "--advice", folder["advice"]);

        Assert.Equal((0, 0), (simulated.Status, replayed.Status));
        var alarms = (await File.ReadAllLinesAsync(folder["alarms"], FarberthCommand.Cancel)).Select(line => JsonNode.Parse(line)!).ToList();
        var told = alarms.First(alarm => (string)alarm["id"]! == AlarmId);
        Assert.InRange(truth.PassedAt!.Value - At(told), LeastWarning, TimeSpan.FromHours(4));
        AssertItAsksForTheRightThing(told, isMeasured: meters == "");
        var asked = (await File.ReadAllLinesAsync(folder["advice"], FarberthCommand.Cancel)).Select(line => JsonNode.Parse(line)!)
            .First(one => (string)one["slip"]! == "R-9" && (string)one["ask"]! == "second-cord");
        Assert.InRange(truth.PassedAt!.Value - At(asked), LeastWarning, TimeSpan.FromHours(4));
        Assert.Contains("outlet B", (string)asked["message"]!, StringComparison.Ordinal);
        // Nobody else's plug is worn, and nobody else is told so.
        Assert.All(alarms.Where(alarm => (string)alarm["kind"]! == "connector-heating"), alarm => Assert.Equal(AlarmId, (string)alarm["id"]!));
    }

    static void AssertItIsTheStory(Afternoon truth)
    {
        Assert.True(truth.LowestVolts < 0.9 * truth.FirstVolts, $"{truth.FirstVolts:0.0} V fall to {truth.LowestVolts:0.0} V");
        Assert.NotNull(truth.PassedAt);
        Assert.False(truth.BreakerOpened);
        Assert.True(truth.MostAmpsOfTenMinutes < 30, $"{truth.MostAmpsOfTenMinutes:0.0} A");
    }

    static void AssertItAsksForTheRightThing(JsonNode told, bool isMeasured)
    {
        var message = (string)told["message"]!;
        Assert.Equal("R-9", (string)told["slip"]!);
        Assert.Contains("boater", told["for"]!.AsArray().Select(who => (string)who!));
        Assert.Contains("one air conditioner", message, StringComparison.Ordinal);
        Assert.Contains("bring out the second cord: outlet B", message, StringComparison.Ordinal);
        Assert.Contains("only after its load is switched off", message, StringComparison.Ordinal);
        Assert.Equal(isMeasured, (bool)told["evidence"]!["measured"]!);
        Assert.Equal("B", (string)told["evidence"]!["spare-outlet"]!);
    }

    static DateTimeOffset At(JsonNode alarm) => DateTimeOffset.Parse((string)alarm["at"]!, CultureInfo.InvariantCulture);

    static Afternoon WhatHappened(string scenario)
    {
        var site = SiteFile.Read(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, Site))).Site!;
        var plan = HotAfternoon.Scenario.Read(scenario).Scenario!;
        var (afternoon, recent) = (new Afternoon(null, null, double.MaxValue, 0, false), new Queue<double>());
        foreach (var step in new Simulation(plan, site).Steps())
        {
            var dock = step.Truth.Docks["R"];
            var volts = dock.Volts("R7", Grid.Network.Leg.L1);
            recent.Enqueue(dock.OutletAmps(new("R7", "A"), Grid.Network.Leg.L1));
            if (recent.Count > TimeSpan.FromMinutes(10) / plan.Step)
                recent.Dequeue();
            afternoon = new(
                afternoon.PassedAt ?? (dock.HotContacts.Contains(Outlet) ? step.Truth.Time : null),
                afternoon.FirstVolts ?? volts,
                Math.Min(afternoon.LowestVolts, volts),
                Math.Max(afternoon.MostAmpsOfTenMinutes, recent.Average()),
                afternoon.BreakerOpened || dock.OpenOutlets.Contains(Outlet));
        }
        return afternoon;
    }

    /// <param name="PassedAt">When the contacts truly passed their limit.</param>
    sealed record Afternoon(
        DateTimeOffset? PassedAt, double? FirstVolts, double LowestVolts, double MostAmpsOfTenMinutes, bool BreakerOpened);
}
