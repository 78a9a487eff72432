using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.Api;
using Farberth.Service.Assets;
using Farberth.Service.Acting;
using Farberth.Service.Boater;
using Farberth.Service.Journaling;
using Farberth.Service.LongHistory;
using Farberth.Service.Loop;
using Farberth.Service.Office;
using Farberth.Service.SiteEditing;
using Farberth.Service.Telling;
using Farberth.Service.Views;
using Farberth.Service.Watched;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service;

/// <summary>The service put together and running: broker if asked for, link, monitoring, publishing, page and API.</summary>
public sealed class RunningService : IAsyncDisposable
{
    static readonly TimeSpan ShutdownWithin = TimeSpan.FromSeconds(5);

    readonly EmbeddedBroker? broker;
    readonly WebApplication app;

    RunningService(EmbeddedBroker? broker, WebApplication app) => (this.broker, this.app) = (broker, app);

    /// <summary>Port of the broker inside the process; null where there is none.</summary>
    public int? BrokerPort => broker?.Port;

    /// <summary>Where the page is served, with the port that was found.</summary>
    public Uri HttpAddress => new(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());

    /// <summary>Where the first administrator is made, with the secret that allows it; null where somebody has an account, or nobody needs one.</summary>
    public Uri? FirstAdministrator => app.Services.GetRequiredService<FirstAdministrator>().Path is { } path ? new(HttpAddress, path) : null;

    public LatestView View => app.Services.GetRequiredService<LatestView>();

    /// <param name="clock">Of everything that happens on the docks; a demo lets it run faster.</param>
    /// <exception cref="IOException">A port is taken, or may not be used; or the data folder cannot be.</exception>
    /// <exception cref="UnauthorizedAccessException">The data folder may not be used.</exception>
    public static async Task<RunningService> Start(ServiceOptions options, TimeProvider clock, ILogger log)
    {
        if (options.DataFolder is { } data)
            Directory.CreateDirectory(data);
        var broker = options.BrokerPort is { } port ? await EmbeddedBroker.Start(port).ConfigureAwait(false) : null;
        var app = Build(options, broker, clock, log);
        try
        {
            await app.StartAsync().ConfigureAwait(false);
            return new RunningService(broker, app);
        }
        catch
        {
            await Close(app, broker).ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>It ends so that another one can begin, with the site file that somebody has put to use.</summary>
    public bool BeginsAgain => app.Services.GetRequiredService<SiteEditor>().BeginsAgain;

    /// <summary>For tests: what the service is made of.</summary>
    internal IServiceProvider Parts => app.Services;

    /// <summary>Done when the process is told to end.</summary>
    public Task WhenStopped(CancellationToken stop) => app.WaitForShutdownAsync(stop);

    public async ValueTask DisposeAsync()
    {
        using var within = new CancellationTokenSource(ShutdownWithin);
        await app.StopAsync(within.Token).ConfigureAwait(false);
        await Close(app, broker).ConfigureAwait(false);
    }

    static WebApplication Build(ServiceOptions options, EmbeddedBroker? broker, TimeProvider clock, ILogger log)
    {
        var mqtt = broker is null ? options.Mqtt : options.Mqtt with { Host = "127.0.0.1", Port = broker.Port };
        // A content root of its own: no settings file that happens to lie in the working folder has a say.
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        builder.WebHost.UseUrls(options.Http.GetLeftPart(UriPartial.Authority));
        if (options.Access.Certificate is { } files)
            builder.WebHost.UseKestrelHttpsConfiguration().ConfigureKestrel(kestrel => kestrel.ConfigureHttpsDefaults(https => https.ServerCertificate = files.Load()));
        builder.Services
            .AddSerilog(log)
            .Configure<HostOptions>(host => host.ShutdownTimeout = ShutdownWithin)
            .AddSingleton(options.Site)
            .AddSingleton(clock)
            .AddSingleton(_ => MqttLink.Start(mqtt, [Recorder.Filter(options.Site.Name)], clock))
            .AddSingleton(services => new Checkpoints(services.GetService<CheckpointFile>(), services.GetService<LogCursors>(), log))
            .AddSingleton(services => MonitorAtStart.Of(options.Site, services.GetService<CheckpointFile>(), services.GetService<IntakeLog>(), log))
            .AddSingleton<Asking>()
            .AddSingleton(services => new Intake(
                services.GetRequiredService<MqttLink>(), services.GetRequiredService<Asking>(), services.GetService<IntakeLog>(), services.GetService<LogCursors>(),
                () => Watch(mqtt, options.Site, clock), services.GetRequiredService<MonitorAtStart>().From))
            .AddSingleton(new LatestView(SiteView.AtStart(options.Site)))
            .AddSingleton<Outbox>()
            .AddSingleton<RefusalLog>()
            .AddSingleton<Showing>()
            .AddSingleton<ShownNow>()
            .AddSingleton(services => new Past(
                options.Site, services.GetService<History>(), services.GetRequiredService<JournalSetup>(), clock))
            .AddSingleton(services => new SeriesReader(services.GetService<History>()))
            .AddSingleton<DockMoments>()
            .AddSingleton(services => new SiteEditor(
                options.Site, options, services.GetRequiredService<LatestView>(), services.GetRequiredService<JournalSetup>(),
                services.GetRequiredService<Audit>(), services.GetRequiredService<IHostApplicationLifetime>(), clock))
            .AddSingleton<Actions>()
            .AddTelling(options, clock)
            .AddHostedService<MonitoringLoop>()
            .AddHostedService<Publisher>();
        if (options.DataFolder is { } data)
            KeepIn(data, options, builder.Services);
        builder.Services.AddWatched(options);
        builder.Services.AddAccess(options).AddApi().AddBoater(options).AddOffice();
        var app = builder.Build();
        app.UseProblems();
        app.UseAccess();
        app.UseOwnPagesOnly();
        app.MapAssets();
        app.MapSignIn();
        app.MapApi();
        app.MapBoater();
        app.MapOffice();
        app.MapWatched();
        return app;
    }

    static void KeepIn(string folder, ServiceOptions options, IServiceCollection services)
    {
        services
            .AddSingleton(_ => History.Open(Path.Combine(folder, "history.sqlite"), options.History))
            .AddSingleton(made => IntakeLog.Open(Path.Combine(folder, "intake"), options.IntakeLog, LogPosition.Later(
                made.GetRequiredService<History>().Cursor, InfluxForwarder.KeptCursor(folder, Forwarding.Readings))))
            .AddSingleton(new CheckpointFile(Path.Combine(folder, "checkpoint")))
            .AddSingleton(Cursors)
            .AddSingleton<HistoryWriter>()
            .AddHostedService(made => made.GetRequiredService<HistoryWriter>());
    }

    /// <summary>Every reader of the log, before the first of them moves: what one has not passed is not deleted.</summary>
    static LogCursors Cursors(IServiceProvider made)
    {
        var cursors = new LogCursors(made.GetRequiredService<IntakeLog>());
        cursors.Add(HistoryWriter.Reader, made.GetRequiredService<History>().Cursor);
        cursors.Add(Checkpoints.Reader, made.GetRequiredService<MonitorAtStart>().From, isCarrier: false);
        return cursors;
    }

    /// <summary>Only what the pedestals and the weather say: what people ask for waits until it can be kept.</summary>
    static MqttLink Watch(MqttOptions mqtt, SiteDefinition site, TimeProvider clock) => MqttLink.Start(
        mqtt with { ClientId = $"{mqtt.ClientId}-watch", SessionExpiry = TimeSpan.Zero },
        [.. new[] { "pedestal/+/reading", "pedestal/+/link", "weather" }.Select(topic => $"farberth/v1/{site.Name}/{topic}")], clock);

    static async Task Close(WebApplication app, EmbeddedBroker? broker)
    {
        await app.DisposeAsync().ConfigureAwait(false);
        if (broker is not null)
            await broker.DisposeAsync().ConfigureAwait(false);
    }
}
