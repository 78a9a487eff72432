using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service.LongHistory;

/// <summary>Carries readings and what the service says of them into InfluxDB, and tells when that stops or lags far behind.</summary>
sealed class Forwarding : BackgroundService
{
    /// <summary>The reader's name among those of the intake log, and of its cursor.</summary>
    public const string Readings = "readings", States = "states";

    static readonly IntakeLogOptions ToldBound = new(SegmentBytes: 16L << 20, MostBytes: 1L << 30);
    static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(5);

    readonly TimeProvider clock;
    readonly ILogger log;
    readonly InfluxServer? server;
    readonly IntakeLog? toldLog;
    readonly List<Line> lines = [];

    /// <param name="cursors">Told how far the readings have come, where others read the intake log too.</param>
    /// <exception cref="IOException">The data folder does not give what is needed.</exception>
    public Forwarding(ServiceOptions options, SiteDefinition site, IntakeLog? intake, LogCursors? cursors, TimeProvider clock, ILogger log)
    {
        (this.clock, this.log) = (clock, log);
        if (options is not { Influx: { } influx, DataFolder: { } data } || intake is null)
            return;
        server = new InfluxServer(influx, clock);
        toldLog = IntakeLog.Open(Path.Combine(data, "told"), ToldBound, InfluxForwarder.KeptCursor(data, States));
        Told = new Told(toldLog, site.Name, log);
        InfluxForwarder Forwarder(IntakeLog from, Func<RecordedMessage, IEnumerable<Point>> points, string name) =>
            new(from, points, server, influx, data, name, clock, Random.Shared.NextDouble);
        var readings = Forwarder(intake, new ReadingPoints(site).Of, Readings);
        cursors?.Add(Readings, readings.State.Settled);
        lines.Add(new(Readings, readings, options.IntakeLog.MostBytes, position => cursors?.Move(Readings, position)));
        lines.Add(new(States, Forwarder(toldLog, new StatePoints(site.Name).Of, States), ToldBound.MostBytes, toldLog.Trim));
    }

    /// <summary>For what the service says; null where there is no long history.</summary>
    public Told? Told { get; }

    /// <summary>Empty where there is no long history.</summary>
    public IReadOnlyList<Carried> Now => [.. lines.Select(line => line.Now)];

    public override void Dispose()
    {
        base.Dispose();
        server?.Dispose();
        toldLog?.Dispose();
    }

    protected override Task ExecuteAsync(CancellationToken stoppingToken) =>
        Task.WhenAll(lines.SelectMany(line => new[] { line.Forwarder.Run(stoppingToken), Look(line, stoppingToken) }));

    async Task Look(Line line, CancellationToken stop)
    {
        for (var before = line.Now; ; before = Tell(before, line.Now))
        {
            await Task.Delay(BetweenLooks, clock, stop).ConfigureAwait(false);
            line.Passed(line.Now.State.Settled);
        }
    }

    Carried Tell(Carried before, Carried now)
    {
        if (now.State.Problem.Length > 0 && before.State.Problem.Length == 0)
            log.Warning("InfluxDB does not take {Name}: {Problem}. They wait on this disk", now.Name, now.State.Problem);
        if (now.State.Problem.Length == 0 && before.State.Problem.Length > 0)
            log.Information("InfluxDB takes {Name} again; {Bytes} bytes wait", now.Name, now.State.WaitingBytes);
        if (now.IsHigh && !before.IsHigh)
            log.Error("InfluxDB lags behind: {Name} fill {Percent:0} % of what their log can hold; beyond it the oldest go", now.Name, now.Fill * 100);
        if (now.State.MissedBytes > before.State.MissedBytes)
            log.Error("{Bytes} bytes of {Name} went before InfluxDB had taken them", now.State.MissedBytes - before.State.MissedBytes, now.Name);
        if (now.State.SetAside > before.State.SetAside)
            log.Warning("InfluxDB does not take {Count} lines of {Name}; they are in the data folder", now.State.SetAside - before.State.SetAside, now.Name);
        return now;
    }

    /// <param name="Passed">Told the position before which the log may let go.</param>
    sealed record Line(string Name, InfluxForwarder Forwarder, long MostBytes, Action<LogPosition> Passed)
    {
        public Carried Now
        {
            get
            {
                var state = Forwarder.State;
                return new(Name, state, (double)state.WaitingBytes / MostBytes);
            }
        }
    }
}
