using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.SignalR.Client;
using Microsoft.AspNetCore.SignalR.Protocol;
using Microsoft.Extensions.DependencyInjection;

namespace Farberth.Console.Tests;

/// <summary>
/// An open console without a browser: to the service it is one. It signs in by the form, gets the page, and then does what ASP.NET Core's
/// blazor.web.js does: a circuit over a WebSocket, the page's components handed in, every render confirmed. What is drawn it does not draw, but
/// it sees the words in it. Two hundred of these take a part of one processor; two hundred pages of a browser take more than this machine has.
/// </summary>
sealed partial class OpenConsole : IAsyncDisposable
{
    readonly HubConnection connection;
    readonly Lock gate = new();
    (byte[] Words, TaskCompletionSource Seen)? lookedFor;
    string? ended;

    OpenConsole(HubConnection connection)
    {
        this.connection = connection;
        connection.On<long, byte[]>("JS.RenderBatch", Rendered);
        connection.On<long, string, string?, int, long, int>("JS.BeginInvokeJS", Called);
        connection.On<string>("JS.Error", problem => End($"the service: {problem}"));
        connection.Closed += problem => Task.FromResult(End($"closed: {problem?.Message}"));
    }

    /// <summary>Renders that the service has sent so far.</summary>
    public int Renders { get; private set; }

    /// <summary>Their bytes.</summary>
    public long Bytes { get; private set; }

    /// <param name="cookies">Of somebody who has signed in: <see cref="SignIn"/>.</param>
    public static async Task<OpenConsole> Open(Uri home, CookieContainer cookies, string path, CancellationToken cancel)
    {
        using var client = Client(home, cookies);
        var page = await client.GetStringAsync(path, cancel);
        var hub = new HubConnectionBuilder().WithUrl(new Uri(home, "_blazor"), options => options.Cookies = cookies);
        hub.Services.AddSingleton<IHubProtocol>(new BlazorPack());
        var console = new OpenConsole(hub.Build());
        await console.connection.StartAsync(cancel);
        var state = State().Match(page).Groups["state"].Value;
        if (await console.connection.InvokeAsync<string?>("StartCircuit", home.ToString(), new Uri(home, path).ToString(), "[]", state, cancel) is null)
            throw new InvalidOperationException($"no circuit for {path}");
        await console.connection.SendAsync("UpdateRootComponents", Components(page), state, cancel);
        return console;
    }

    /// <summary>Fills in the form for signing in, with all that it hides.</summary>
    public static async Task<CookieContainer> SignIn(Uri home, string name, string password, CancellationToken cancel)
    {
        var cookies = new CookieContainer();
        using var client = Client(home, cookies);
        var form = Hidden().Matches(await client.GetStringAsync("/sign-in", cancel)).Select(field => KeyValuePair.Create(field.Groups["name"].Value, WebUtility.HtmlDecode(field.Groups["value"].Value)));
        using var filled = new FormUrlEncodedContent([.. form, new("Told.Name", name), new("Told.Password", password)]);
        using var answer = await client.PostAsync("/sign-in", filled, cancel);
        return answer.StatusCode == HttpStatusCode.Redirect ? cookies : throw new InvalidOperationException($"{name} is not signed in: {answer.StatusCode}");
    }

    /// <summary>Done with the next render that has these words.</summary>
    public Task Shows(string words)
    {
        lock (gate)
        {
            lookedFor = (Encoding.UTF8.GetBytes(words), new(TaskCreationOptions.RunContinuationsAsynchronously));
            if (ended is not null)
                lookedFor.Value.Seen.SetException(new InvalidOperationException(ended));
            return lookedFor.Value.Seen.Task;
        }
    }

    public async ValueTask DisposeAsync() => await connection.DisposeAsync();

    async Task Rendered(long number, byte[] batch)
    {
        lock (gate)
        {
            (Renders, Bytes) = (Renders + 1, Bytes + batch.Length);
            if (lookedFor is { } words && batch.AsSpan().IndexOf(words.Words) >= 0)
                words.Seen.TrySetResult();
        }
        await connection.SendAsync("OnRenderCompleted", number, (string?)null);
    }

    /// <summary>A script of the page is called: it has done nothing, and says so.</summary>
    Task Called(long call, string name, string? arguments, int result, long target, int kind) => call == 0 ? Task.CompletedTask
        : connection.SendAsync("EndInvokeJSFromDotNet", call, true, $"[{call},true,null]");

    bool End(string why)
    {
        lock (gate)
        {
            ended ??= why;
            return lookedFor?.Seen.TrySetException(new InvalidOperationException(ended)) == true;
        }
    }

    /// <summary>What the page says of its live components, each signed by the service, as blazor.web.js hands it back.</summary>
    static string Components(string page)
    {
        var markers = Marker().Matches(page).Select(marker => JsonNode.Parse(marker.Groups["json"].Value)!).Where(marker => (string?)marker["type"] == "server");
        return new JsonObject
        {
            ["batchId"] = 1,
            ["operations"] = new JsonArray([.. markers.Select((marker, at) => (JsonNode)new JsonObject { ["type"] = "add", ["ssrComponentId"] = at + 1, ["marker"] = marker.DeepClone() })]),
        }.ToJsonString();
    }

    static HttpClient Client(Uri home, CookieContainer cookies) =>
        new(new SocketsHttpHandler { CookieContainer = cookies, AllowAutoRedirect = false }) { BaseAddress = home };

    [GeneratedRegex("<!--Blazor:(?<json>{.+?})-->")]
    private static partial Regex Marker();

    [GeneratedRegex("<!--Blazor-Server-Component-State:(?<state>.+?)-->")]
    private static partial Regex State();

    [GeneratedRegex("""<input type="hidden" name="(?<name>[^"]+)"(?: value="(?<value>[^"]*)")?""")]
    private static partial Regex Hidden();
}
