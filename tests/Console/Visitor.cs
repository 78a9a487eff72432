using System.Collections.Concurrent;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Farberth.Console.Tests;

/// <summary>Somebody at a screen. What his browser complains of, and what it asks of other hosts, is kept.</summary>
public sealed class Visitor : IAsyncDisposable
{
    static readonly string[] Accessible = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

    readonly IBrowserContext context;
    readonly ConcurrentQueue<string> complaints = [];

    public Visitor(IBrowserContext context, IPage page, Uri home)
    {
        (this.context, Page) = (context, page);
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
                complaints.Enqueue(message.Text);
        };
        page.PageError += (_, error) => complaints.Enqueue(error);
        page.Request += (_, request) =>
        {
            var asked = new Uri(request.Url);
            if (asked.Scheme is "http" or "https" or "ws" or "wss" && asked.Authority != home.Authority)
                complaints.Enqueue($"asks another host: {request.Url}");
        };
    }

    public IPage Page { get; }

    public IReadOnlyCollection<string> Complaints => complaints;

    /// <summary>Goes there, and waits until the page is live, where it is one that becomes so.</summary>
    public async Task<IResponse?> Go(string path, bool isLive = true)
    {
        var answer = await Page.GotoAsync(path);
        if (isLive)
            await IsLive();
        return answer;
    }

    /// <summary>Waits until he has been led to another page. Its load event is not waited for: the library may have missed it.</summary>
    public Task ArrivesAt(string path) => Page.WaitForURLAsync("**" + path, new() { WaitUntil = WaitUntilState.Commit });

    Task IsLive() => Page.WaitForSelectorAsync("html[data-live=yes]", new() { State = WaitForSelectorState.Attached });

    public async Task SignIn(string name, string password)
    {
        await Go("/sign-in", isLive: false);
        await Page.GetByLabel("Name").FillAsync(name);
        await Page.GetByLabel("Password").FillAsync(password);
        await Page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await ArrivesAt("/");
        await IsLive();
    }

    /// <summary>The dock office writes the boat in slip G-2 down, if it has not yet.</summary>
    /// <returns>Where its people find their page.</returns>
    public async Task<string> WritesDownOtterling()
    {
        await Go("/boats");
        var stay = Page.Locator("tr", new() { HasTextString = "Otterling" });
        if (await stay.CountAsync() == 0)
        {
            await Page.GetByLabel("Slip", new() { Exact = true }).FillAsync("G-2");
            await Page.GetByLabel("Boat", new() { Exact = true }).FillAsync("Otterling");
            await Page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        }
        return new Uri((await stay.GetByRole(AriaRole.Link, new() { Name = "link", Exact = true }).First.GetAttributeAsync("href"))!).PathAndQuery;
    }

    /// <summary>What of the Web Content Accessibility Guidelines 2.2, level AA, the page breaks, by the rules of axe-core; empty: nothing.</summary>
    public async Task<IReadOnlyList<string>> Barriers()
    {
        var result = await Page.RunAxe(new AxeRunOptions { RunOnly = new() { Type = "tag", Values = [.. Accessible] } });
        return [.. result.Violations.SelectMany(rule => rule.Nodes.Select(node => $"{rule.Id}: {node.Html}"))];
    }

    public Task<bool> ScrollsSideways() => Page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth + 1");

    public async ValueTask DisposeAsync() => await context.CloseAsync();
}
