using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Json;
using System.Net.ServerSentEvents;
using System.Text;
using System.Text.Json.Nodes;
using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests;

/// <summary>A running service process and its page.</summary>
sealed class StartedService : IAsyncDisposable
{
    readonly Process process;
    readonly CommandLog log;
    readonly HttpClient browser;
    readonly TemporaryFolder? data;
    bool isDisposed;

    StartedService(Process process, CommandLog log, string said, TemporaryFolder? data)
    {
        (this.process, this.log, Said, this.data) = (process, log, said, data);
        browser = new HttpClient { BaseAddress = new Uri(said.Split(' ')[2].TrimEnd(',')) };
        Browser = new HttpClient { BaseAddress = browser.BaseAddress };
        Browser.DefaultRequestHeaders.Add("X-Farberth", "1");
    }

    /// <summary>Its first line, with the addresses.</summary>
    public string Said { get; }

    /// <summary>One of the service's own pages or programs, which may change something: it sends the header for that.</summary>
    public HttpClient Browser { get; }

    /// <summary>Of the process.</summary>
    public int Id => process.Id;

    public bool HasExited => process.HasExited;

    /// <summary>Keeps its data in a folder of its own, gone when it ends, unless the arguments name one; lets in whoever comes.</summary>
    public static async Task<StartedService> Start(params string[] arguments)
    {
        arguments = [.. arguments, "--no-sign-in"];
        var data = arguments.Contains("--data") ? null : new TemporaryFolder();
        var process = FarberthCommand.Start(data is null ? arguments : [.. arguments, "--data", data["data"]]);
        var (said, errors) = (new CommandLog(), new CommandLog());
        errors.Follow(process.StandardError);
        said.Follow(process.StandardOutput);
        var first = await said.When(line => line == CommandLog.Ended || line.StartsWith("site ", StringComparison.Ordinal), 0, FarberthCommand.Cancel);
        return first == CommandLog.Ended ? throw new InvalidOperationException($"the service did not start:\n{errors}") : new StartedService(process, said, first, data);
    }

    /// <summary>Follows the service's stream until a view meets the condition.</summary>
    public async Task<JsonNode> WhenView(Func<JsonNode, bool> condition)
    {
        using var giveUp = CancellationTokenSource.CreateLinkedTokenSource(FarberthCommand.Cancel);
        giveUp.CancelAfter(TimeSpan.FromMinutes(3));
        await using var stream = await browser.GetStreamAsync("/api/stream", giveUp.Token);
        await foreach (var item in SseParser.Create(stream).EnumerateAsync(giveUp.Token))
            if (item.EventType == "view" && JsonNode.Parse(item.Data) is { } view && condition(view))
                return view;
        throw new InvalidOperationException("the stream ended");
    }

    /// <summary>It has gone on by a second.</summary>
    public async Task WhenTicked()
    {
        string? first = null;
        await WhenView(view => (first ??= (string?)view["now"] ?? "") != ((string?)view["now"] ?? ""));
    }

    /// <summary>The real service against a broker that somebody else has started, once it is connected and subscribed.</summary>
    public static Task<StartedService> Connected(string siteFile, MosquittoBroker broker, params string[] more) =>
        Connected(siteFile, $"{broker.Host}:{broker.Port}", more);

    public static async Task<StartedService> Connected(string siteFile, string broker, params string[] more)
    {
        var service = await Start(["run", siteFile, "--mqtt", broker, "--http", "http://127.0.0.1:0", .. more]);
        await service.WhenView(view => (string)view["broker"]!["state"]! == "connected");
        return service;
    }

    /// <summary>The answer to a probe: its status code and body.</summary>
    public async Task<(int Status, JsonNode Body)> Health(string probe)
    {
        using var answer = await browser.GetAsync($"/health/{probe}", FarberthCommand.Cancel);
        return ((int)answer.StatusCode, JsonNode.Parse(await answer.Content.ReadAsStringAsync(FarberthCommand.Cancel))!);
    }

    public Task<string> Metrics() => browser.GetStringAsync("/metrics", FarberthCommand.Cancel);

    /// <summary>The value of the first series of that name; 0 where there is none.</summary>
    public async Task<double> Metric(string name) => (await Metrics()).Split('\n').Where(line => line.StartsWith(name, StringComparison.Ordinal))
        .Select(line => double.Parse(line.Split(' ')[1], CultureInfo.InvariantCulture)).FirstOrDefault();

    public async Task<JsonArray> Refusals() =>
        JsonNode.Parse(await browser.GetStringAsync("/api/refusals", FarberthCommand.Cancel))!.AsArray();

    public async Task<JsonNode> Get(string path) => JsonNode.Parse(await browser.GetStringAsync(path, FarberthCommand.Cancel))!;

    /// <summary>It has begun again within its process: its first line comes once more.</summary>
    public Task WhenBegunAgain() => log.When(line => line.StartsWith("site ", StringComparison.Ordinal), from: 1, FarberthCommand.Cancel);

    public async Task<int> Status(string path)
    {
        using var answer = await browser.GetAsync(path, FarberthCommand.Cancel);
        return (int)answer.StatusCode;
    }

    /// <summary>The answer to something that changes something: its status code and body.</summary>
    /// <param name="fromOwnPage">With the header that only the service's own pages and programs send.</param>
    public Task<(int Status, JsonNode Body)> Post(string path, JsonNode? body = null, bool fromOwnPage = true) =>
        Post(path, body is null ? null : JsonContent.Create(body), fromOwnPage);

    public Task<(int Status, JsonNode Body)> Post(string path, string yaml) => Post(path, new StringContent(yaml, Encoding.UTF8, "application/yaml"), fromOwnPage: true);

    async Task<(int Status, JsonNode Body)> Post(string path, HttpContent? content, bool fromOwnPage)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = content };
        if (fromOwnPage)
            request.Headers.Add("X-Farberth", "1");
        using var answer = await browser.SendAsync(request, FarberthCommand.Cancel);
        var text = await answer.Content.ReadAsStringAsync(FarberthCommand.Cancel);
        return ((int)answer.StatusCode, text.Length == 0 ? new JsonObject() : JsonNode.Parse(text)!);
    }

    /// <summary>Ends it as a power cut would end the process: nothing is said, nothing is finished.</summary>
    public async Task Kill()
    {
        process.Kill();
        await process.WaitForExitAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (isDisposed)
            return;
        isDisposed = true;
        if (!process.HasExited)
            await FarberthCommand.Interrupt(process);
        await process.WaitForExitAsync();
        browser.Dispose();
        Browser.Dispose();
        process.Dispose();
        data?.Dispose();
    }
}
