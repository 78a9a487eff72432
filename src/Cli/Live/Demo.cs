using Farberth.Adapters.Mqtt;
using Farberth.HotAfternoon;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service;
using Farberth.Service.Views;

namespace Farberth.Cli.Live;

/// <summary>Broker, simulator and service in one process, on one clock.</summary>
sealed class Demo : IAsyncDisposable
{
    // Real time; the clock that the link waits on runs faster.
    static readonly TimeSpan AnswerWithin = TimeSpan.FromSeconds(10);

    readonly Simulation simulation;
    readonly RunningService service;
    readonly MqttLink meters;
    readonly DemoClock clock;
    readonly Played played;

    Demo(Simulation simulation, RunningService service, MqttLink meters, DemoClock clock, Played played) =>
        (this.simulation, this.service, this.meters, this.clock, this.played) = (simulation, service, meters, clock, played);

    public Uri HttpAddress => service.HttpAddress;

    public SiteView View => service.View.Value;

    /// <summary>The meters' messages that the broker has taken.</summary>
    public long Published => meters.Counts.Published;

    /// <exception cref="IOException">A port is taken.</exception>
    public static async Task<Demo> Start(SiteDefinition site, string siteText, Simulation simulation, TimeSpan duration, Uri http)
    {
        var speed = (simulation.End - simulation.Start) / duration;
        var played = new Played(simulation.Start, simulation.End);
        LatestView? view = null;
        var clock = new DemoClock(simulation.Start, speed, () => view?.Value.Now is { } now && now < played.UpTo ? now : played.UpTo);
        var mqtt = new MqttOptions("127.0.0.1", 0, ServiceOptions.ClientId(site)) { AnswerWithin = AnswerWithin * speed };
        var service = await RunningService.Start(new ServiceOptions(site, mqtt, BrokerPort: 0, http) { SiteText = siteText }, clock, Logs.Quiet());
        view = service.View;
        var meters = MqttLink.Start(mqtt with { Port = service.BrokerPort!.Value, ClientId = "farberth-meters" }, [], clock);
        return new Demo(simulation, service, meters, clock, played);
    }

    /// <summary>Plays the whole scenario; done when the service has come to its end too.</summary>
    public async Task Play(CancellationToken stop)
    {
        var player = new Player(clock, async (message, cancel) => await meters.PublishPatiently(message, cancel));
        await player.PlayAsync(played.Follow(simulation.Run()), stop);
        while (View.Now is not { } now || now < simulation.End)
            await Task.Delay(SiteMonitor.Tick, clock, stop);
    }

    public async ValueTask DisposeAsync()
    {
        await meters.DisposeAsync();
        await service.DisposeAsync();
    }

    /// <summary>How far the meters have come: the time of the message they are waiting to send, then the end of the story.</summary>
    sealed class Played(DateTimeOffset start, DateTimeOffset end)
    {
        long ticks = start.UtcTicks;

        public DateTimeOffset UpTo => new(Volatile.Read(ref ticks), TimeSpan.Zero);

        public IEnumerable<RecordedMessage> Follow(IEnumerable<RecordedMessage> messages)
        {
            foreach (var message in messages)
            {
                Volatile.Write(ref ticks, message.At.UtcTicks);
                yield return message;
            }
            Volatile.Write(ref ticks, end.UtcTicks);
        }
    }
}
