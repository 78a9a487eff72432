using System.Globalization;
using System.Text.Json.Nodes;

namespace Farberth.Console.Tests;

/// <summary>The worst that a dock office may see: 32 boats that all draw more than their outlets may carry, and the volts sag.</summary>
public sealed class CrowdedMarina : Marina
{
    public const int Alarms = 30;

    public const int Pedestals = 16;

    /// <summary>The pedestal whose boats draw little, counted from the source; 0: all draw too much.</summary>
    public int Resting { get; set; }

    protected override string Site => Path.Combine(AppContext.BaseDirectory, "data", "console", "crowded.yaml");

    /// <summary>Tests begin when so many alarms stand.</summary>
    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        await using var vic = await As(Viewer);
        await vic.Go("/alarms");
        await vic.Page.WaitForFunctionAsync($"() => Number(document.querySelector('#standing').textContent.split(':')[1]) >= {Alarms}", null, new() { Timeout = 300_000 });
    }

    protected override async Task Tell()
    {
        for (var at = 0; at < Pedestals; at++)
            await Tell($"G{at + 1}", Reading(at == 0 ? Volts : 119.5 - 0.6 * at, at + 1 == Resting ? 9 : 27.2));
    }

    static string Reading(double volts, double amps) => new JsonObject
    {
        ["time"] = DateTimeOffset.UtcNow.ToString("O", CultureInfo.InvariantCulture), ["volts"] = new JsonObject { ["L1"] = volts, ["L2"] = volts },
        ["outlets"] = new JsonObject
        {
            ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } }, ["B"] = new JsonObject { ["amps"] = new JsonObject { ["L2"] = 26.8 } },
        },
    }.ToJsonString();
}
