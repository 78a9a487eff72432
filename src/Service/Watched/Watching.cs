using System.Text.Json.Nodes;
using Farberth.Adapters.Stores.Intake;
using Farberth.Service.LongHistory;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using Serilog;

namespace Farberth.Service.Watched;

/// <summary>How the service is watched from outside: /metrics for Prometheus, /health for probes.</summary>
static class Watching
{
    public static void AddWatched(this IServiceCollection services, ServiceOptions options)
    {
        services
            .AddSingleton(from => new Forwarding(
                options, options.Site, from.GetService<IntakeLog>(), from.GetService<LogCursors>(), from.GetRequiredService<TimeProvider>(), from.GetRequiredService<ILogger>()))
            .AddHostedService(from => from.GetRequiredService<Forwarding>())
            .AddSingleton<ServiceMetrics>()
            .AddSingleton<HealthNow>();
        services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.AddService("farberth", serviceInstanceId: options.Site.Name))
            .WithMetrics(metrics => metrics.AddMeter(ServiceMetrics.MeterName, "System.Runtime").AddPrometheusExporter(exporter => exporter.ScrapeResponseCacheDurationMilliseconds = 0));
    }

    public static void MapWatched(this WebApplication app)
    {
        // Its clock starts with the service, not with the first probe.
        _ = app.Services.GetRequiredService<HealthNow>();
        app.MapPrometheusScrapingEndpoint("/metrics").AllowAnonymous();
        app.MapGet("/health/live", (HealthNow health) => Answer(health.Value, health.Value.IsLive)).AllowAnonymous();
        app.MapGet("/health/ready", (HealthNow health) => Answer(health.Value, health.Value.IsReady)).AllowAnonymous();
    }

    static IResult Answer(ServiceHealth health, bool isWell)
    {
        var parts = new JsonObject();
        foreach (var part in health.Parts)
            parts[part.Name] = new JsonObject { ["state"] = part.State.ToString().ToLowerInvariant(), ["reason"] = part.Reason };
        return Results.Json(
            new JsonObject { ["live"] = health.IsLive, ["ready"] = health.IsReady, ["parts"] = parts },
            statusCode: isWell ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable);
    }
}
