using Farberth.Adapters.Mqtt;
using Farberth.Service.Loop;
using Farberth.Service.Telling;
using Farberth.Service.Views;
using Farberth.Service.Web;
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

    public LatestView View => app.Services.GetRequiredService<LatestView>();

    /// <param name="clock">Of everything that happens on the docks; a demo lets it run faster.</param>
    /// <exception cref="IOException">A port is taken, or may not be used.</exception>
    public static async Task<RunningService> Start(ServiceOptions options, TimeProvider clock, ILogger log)
    {
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
        builder.Services
            .AddSerilog(log)
            .AddSingleton(options.Site)
            .AddSingleton(clock)
            .AddSingleton(_ => MqttLink.Start(mqtt, [Recorder.Filter(options.Site.Name)], clock))
            .AddSingleton(new LatestView(SiteView.AtStart(options.Site)))
            .AddSingleton<Outbox>()
            .AddSingleton<RefusalLog>()
            .AddSingleton<Showing>()
            .AddTelling(options, clock)
            .AddHostedService<MonitoringLoop>()
            .AddHostedService<Publisher>();
        var app = builder.Build();
        app.MapPages();
        return app;
    }

    static async Task Close(WebApplication app, EmbeddedBroker? broker)
    {
        await app.DisposeAsync().ConfigureAwait(false);
        if (broker is not null)
            await broker.DisposeAsync().ConfigureAwait(false);
    }
}
