using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon;

/// <summary>One step: what was, and what arrived at the broker meanwhile.</summary>
public sealed record SimulatedStep(Truth Truth, IReadOnlyList<RecordedMessage> Arrived);

/// <summary>Plays a scenario on a site. The same scenario and site give the same bytes each time.</summary>
/// <remarks>The physics runs one hour before the start, unseen, so that thermostats and cables are in step.</remarks>
public sealed class Simulation
{
    static readonly TimeSpan WarmUp = TimeSpan.FromHours(1);

    readonly Scenario scenario;
    readonly SiteDefinition site;
    readonly TimeSpan utcOffset;

    /// <exception cref="ArgumentException">The scenario does not fit the site; see <see cref="Check"/>.</exception>
    public Simulation(Scenario scenario, SiteDefinition site)
    {
        if (Check(scenario, site) is { Count: > 0 } mistakes)
            throw new ArgumentException(string.Join(Environment.NewLine, mistakes), nameof(scenario));
        this.scenario = scenario;
        this.site = site;
        utcOffset = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone).GetUtcOffset(scenario.Start);
    }

    /// <summary>What the people aboard are asked; may be changed between two steps.</summary>
    public AboardRequests Requests { get; } = new();

    /// <summary>Start of the scenario, UTC.</summary>
    public DateTimeOffset Start => Utc(scenario.Start);

    /// <summary>End of the scenario, UTC.</summary>
    public DateTimeOffset End => Utc(scenario.End);

    /// <summary>What in the scenario the site does not have.</summary>
    public static IReadOnlyList<ScenarioMistake> Check(Scenario scenario, SiteDefinition site) =>
        SiteFit.Mistakes(scenario, site);

    /// <summary>All messages in the order they arrive, made as they are asked for.</summary>
    public IEnumerable<RecordedMessage> Run() => Steps().SelectMany(step => step.Arrived);

    /// <summary>Truth and messages step by step, made as they are asked for.</summary>
    public IEnumerable<SimulatedStep> Steps()
    {
        var sky = new HeatWave(scenario.Weather);
        var docks = WarmedUp(sky);
        var arrivals = new MessagesUnderWay();
        var observers = new Observers(scenario, site.Name, docks, sky, Utc, arrivals);
        for (var local = scenario.Start; local < scenario.End; local += scenario.Step)
        {
            StepAll(docks, local, sky.At(local));
            var next = local + scenario.Step;
            observers.Step(local, next);
            var truth = docks.ToDictionary(dock => dock.Topology.Dock, dock => dock.Truth(local));
            yield return new SimulatedStep(
                new Truth(Utc(local), local, sky.At(local), truth),
                arrivals.TakeUntil(next < scenario.End ? Utc(next) : DateTimeOffset.MaxValue));
        }
    }

    DockRun[] WarmedUp(HeatWave sky)
    {
        var begin = scenario.Start - WarmUp;
        DockRun[] docks =
        [
            .. site.Docks.Values
                .OrderBy(dock => dock.Name, StringComparer.Ordinal)
                .Select(dock => new DockRun(TopologyOfSite.Of(site, dock), scenario, begin, sky.At(begin).Celsius, Requests)),
        ];
        for (var local = begin; local < scenario.Start; local += scenario.Step)
            StepAll(docks, local, sky.At(local));
        return docks;
    }

    void StepAll(DockRun[] docks, DateTime local, Sky sky)
    {
        foreach (var dock in docks)
            dock.Step(scenario.Step.TotalSeconds, local, sky);
    }

    DateTimeOffset Utc(DateTime local) => new DateTimeOffset(local, utcOffset).ToUniversalTime();
}
