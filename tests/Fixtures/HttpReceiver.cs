using System.Threading.Channels;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Farberth.Tests.Fixtures;

/// <summary>Somebody else's web server: it keeps what was posted, and answers as it is told.</summary>
public sealed class HttpReceiver : IAsyncDisposable
{
    readonly WebApplication app;
    readonly Channel<Received> received = System.Threading.Channels.Channel.CreateUnbounded<Received>();

    HttpReceiver(WebApplication app) => this.app = app;

    public sealed record Received(string Method, string Path, string Host, IReadOnlyDictionary<string, string> Headers, byte[] Body);

    /// <summary>How it answers; the default says 204.</summary>
    public Func<HttpContext, Task> Answer { get; set; } = context =>
    {
        context.Response.StatusCode = 204;
        return Task.CompletedTask;
    };

    public string Url => app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();

    public static async Task<HttpReceiver> Start()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Logging.ClearProviders();
        var app = builder.Build();
        var receiver = new HttpReceiver(app);
        app.Run(receiver.Take);
        await app.StartAsync(TestContext.Current.CancellationToken);
        return receiver;
    }

    public void AnswerWith(int status, string? header = null, string? value = null) => Answer = context =>
    {
        context.Response.StatusCode = status;
        if (header != null)
            context.Response.Headers[header] = value;
        return Task.CompletedTask;
    };

    public ValueTask<Received> Next() => received.Reader.ReadAsync(TestContext.Current.CancellationToken);

    public ValueTask DisposeAsync() => app.DisposeAsync();

    async Task Take(HttpContext context)
    {
        using var body = new MemoryStream();
        await context.Request.Body.CopyToAsync(body);
        var request = context.Request;
        received.Writer.TryWrite(new(
            request.Method, request.Path, request.Host.Value!, request.Headers.ToDictionary(pair => pair.Key, pair => pair.Value.ToString(), StringComparer.OrdinalIgnoreCase), body.ToArray()));
        await Answer(context);
    }
}
