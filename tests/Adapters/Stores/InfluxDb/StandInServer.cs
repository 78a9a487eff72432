using System.IO.Compression;
using System.Threading.Channels;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace Farberth.Adapters.Tests.Stores.InfluxDb;

/// <summary>One request as it arrived.</summary>
sealed record Written(IReadOnlyList<string> Lines, string Encoding, string Authorization, string Query);

/// <summary>Answers the write path of InfluxDB's API as a test wants it to, on a free loopback port.</summary>
sealed class StandInServer : IAsyncDisposable
{
    /// <summary>As a status: the connection breaks without an answer.</summary>
    public const int BreaksOff = 599;

    readonly WebApplication app;
    readonly Channel<Written> requests = Channel.CreateUnbounded<Written>();

    StandInServer(WebApplication app) => this.app = app;

    public Uri Url => new(app.Urls.First());

    /// <summary>Each request, in the order of the answers.</summary>
    public ChannelReader<Written> Requests => requests.Reader;

    /// <param name="answer">Sets status and headers; a request counts as answered when it is done.</param>
    public static async Task<StandInServer> Start(Func<Written, HttpResponse, Task> answer)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var server = new StandInServer(builder.Build());
        server.app.MapPost("/api/v2/write", async context =>
        {
            var request = await Read(context.Request);
            context.Response.StatusCode = StatusCodes.Status204NoContent;
            await answer(request, context.Response);
            server.requests.Writer.TryWrite(request);
            // Only now, or the next request could come in before this one.
            if (context.Response.StatusCode == BreaksOff)
                context.Abort();
        });
        await server.app.StartAsync();
        return server;
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    static async Task<Written> Read(HttpRequest request)
    {
        var encoding = request.Headers.ContentEncoding.ToString();
        await using var body = encoding == "gzip" ? new GZipStream(request.Body, CompressionMode.Decompress) : request.Body;
        using var reader = new StreamReader(body);
        var lines = (await reader.ReadToEndAsync()).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        return new Written(lines, encoding, request.Headers.Authorization.ToString(), request.QueryString.Value ?? "");
    }
}
