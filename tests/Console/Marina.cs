using System.Diagnostics;
using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Farberth.Acceptance.Tests;
using Farberth.Tests.Fixtures;
using Microsoft.Playwright;

namespace Farberth.Console.Tests;

/// <summary>
/// The real service behind Debian's Mosquitto, with people who sign in. Readings come every second; slip G-2 carries more than it should.
/// </summary>
public partial class Marina : IAsyncLifetime
{
    public const string Password = "seven seals on a pontoon";
    public const string Administrator = "mara", Harbormaster = "hollis", Electrician = "edda", Viewer = "vic";

    public static readonly string SiteFile = Path.Combine(AppContext.BaseDirectory, "data", "console", "gullhaven.yaml");

    readonly TemporaryFolder data = new();
    readonly CancellationTokenSource ending = new();
    readonly Chromium chromium = new();
    MosquittoBroker broker = default!;
    Process process = default!;
    Task meters = Task.CompletedTask;

    /// <summary>One a pedestal, which stays connected.</summary>
    readonly Dictionary<string, Process> publishers = [];

    public Uri Home { get; private set; } = default!;

    public Chromium Chromium => chromium;

    /// <summary>What the service has had of one processor so far, and its memory now.</summary>
    public (TimeSpan Processor, long Bytes) Used
    {
        get
        {
            process.Refresh();
            return (process.TotalProcessorTime, process.WorkingSet64);
        }
    }

    /// <summary>That the inner pedestal reads, on L1.</summary>
    public double Volts { get; set; } = 120.1;


    /// <summary>The file of a site whose name is gullhaven.</summary>
    protected virtual string Site => SiteFile;

    /// <summary>What else the service is told.</summary>
    /// <param name="folder">Gone at the end.</param>
    protected virtual IEnumerable<string> More(string folder) => [];

    public virtual async ValueTask InitializeAsync()
    {
        await chromium.InitializeAsync();
        broker = await MosquittoBroker.Start(FarberthCommand.Cancel);
        process = FarberthCommand.Start(["run", Site, "--mqtt", $"{broker.Host}:{broker.Port}", "--http", "http://127.0.0.1:0", "--data", data["data"], .. More(data["."])]);
        var told = new CommandLog();
        told.Follow(process.StandardOutput);
        var first = new Uri(FirstAddress().Match(await told.When(line => line.Contains("/first?secret=", StringComparison.Ordinal), 0, FarberthCommand.Cancel)).Value);
        // Passkeys want a name: an address by number has none.
        Home = new($"http://localhost:{first.Port}");
        meters = Task.Run(Read);
        await MakePeople(first);
    }

    /// <summary>Somebody who has signed in.</summary>
    public async Task<Visitor> As(string name, int width = 1024)
    {
        var visitor = await chromium.Visit(Home, width);
        await visitor.SignIn(name, Password);
        return visitor;
    }

    public async ValueTask DisposeAsync()
    {
        await ending.CancelAsync();
        await meters;
        foreach (var publisher in publishers.Values)
            await End(publisher);
        await FarberthCommand.Interrupt(process);
        await process.WaitForExitAsync();
        process.Dispose();
        await broker.DisposeAsync();
        await chromium.DisposeAsync();
        data.Dispose();
        ending.Dispose();
        GC.SuppressFinalize(this);
    }

    /// <summary>The first account by the address that the service has printed, the others by the page for people.</summary>
    async Task MakePeople(Uri first)
    {
        await using var mara = await chromium.Visit(Home);
        await mara.Go(first.PathAndQuery, isLive: false);
        await mara.Page.GetByLabel("Name").FillAsync(Administrator);
        await mara.Page.GetByLabel("Password").FillAsync(Password);
        await mara.Page.GetByRole(AriaRole.Button, new() { Name = "Make the account" }).ClickAsync();
        await mara.ArrivesAt("/");
        foreach (var (name, role) in new[] { (Harbormaster, "harbormaster"), (Electrician, "electrician"), (Viewer, "viewer") })
        {
            await mara.Go("/people", isLive: false);
            await mara.Page.GetByLabel("Name", new() { Exact = true }).FillAsync(name);
            await mara.Page.GetByLabel("First password").FillAsync(Password);
            await mara.Page.Locator("select[name='Fresh.Role']").SelectOptionAsync(role);
            await mara.Page.GetByRole(AriaRole.Button, new() { Name = "Add", Exact = true }).ClickAsync();
            await Assertions.Expect(mara.Page.Locator("th", new() { HasTextString = name })).ToHaveCountAsync(1);
        }
    }

    async Task Read()
    {
        using var timer = new PeriodicTimer(TimeSpan.FromSeconds(1));
        try
        {
            do
            {
                await Tell();
            }
            while (await timer.WaitForNextTickAsync(ending.Token));
        }
        catch (OperationCanceledException)
        {
            // The test is over.
        }
    }

    /// <summary>What all pedestals say in one second.</summary>
    protected virtual async Task Tell()
    {
        await Tell("G1", Reading(Volts, 9, hasFreeOutlet: true));
        await Tell("G2", Reading(116.4, 27.2));
    }

    /// <summary>Without waiting for the broker. A client that has lost it is started anew, as a meter would be.</summary>
    protected async Task Tell(string pedestal, string reading)
    {
        if (!publishers.TryGetValue(pedestal, out var publisher) || publisher.HasExited)
        {
            publisher?.Dispose();
            publishers[pedestal] = publisher = Publisher(pedestal);
        }
        await publisher.StandardInput.WriteLineAsync(reading);
        await publisher.StandardInput.FlushAsync();
    }

    public async Task<TickTimes> Ticks(CancellationToken cancel)
    {
        using var client = new HttpClient { BaseAddress = Home };
        return TickTimes.Of(await client.GetStringAsync("/metrics", cancel));
    }

    /// <summary>What the service tells others, as a client of the broker gets it.</summary>
    public Task<MosquittoSubscription> Listen(string filter) => broker.Subscribe($"farberth/v1/gullhaven/{filter}", ending.Token);

    /// <summary>The inner pedestal says at once what it reads.</summary>
    public Task Say(double volts)
    {
        Volts = volts;
        return broker.Publish(Topic("G1"), Reading(Volts, 9, hasFreeOutlet: true), ending.Token);
    }

    /// <summary>So many readings a second of the pedestal further out, until told to end.</summary>
    /// <returns>How many there were.</returns>
    public async Task<int> Crowd(int readingsPerSecond, CancellationToken end)
    {
        const int perSecond = 50;
        var said = 0;
        var publisher = Publisher("G2");
        using var timer = new PeriodicTimer(TimeSpan.FromSeconds(1.0 / perSecond));
        try
        {
            for (; await timer.WaitForNextTickAsync(end); said += readingsPerSecond / perSecond)
                for (var one = 0; one < readingsPerSecond / perSecond; one++)
                    await publisher.StandardInput.WriteLineAsync(Reading(116.4, 27.2));
        }
        catch (OperationCanceledException)
        {
            await End(publisher);
        }
        return said;
    }

    static async Task End(Process publisher)
    {
        publisher.StandardInput.Close();
        await publisher.WaitForExitAsync(CancellationToken.None);
        publisher.Dispose();
    }

    /// <summary>A client that is not ours; each line of its input is a reading of that pedestal.</summary>
    Process Publisher(string pedestal) =>
        Command.Start("mosquitto_pub", "-h", broker.Host, "-p", broker.Port.ToString(CultureInfo.InvariantCulture), "-t", Topic(pedestal), "-q", "1", "-l");

    static string Topic(string pedestal) => $"farberth/v1/gullhaven/pedestal/{pedestal}/reading";

    static string Reading(double volts, double amps, bool hasFreeOutlet = false)
    {
        var outlets = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } };
        if (hasFreeOutlet)
            outlets["B"] = new JsonObject { ["amps"] = new JsonObject { ["L2"] = 0 } };
        return new JsonObject
        {
            ["time"] = DateTimeOffset.UtcNow.ToString("O"), ["volts"] = new JsonObject { ["L1"] = volts, ["L2"] = volts + 1 }, ["outlets"] = outlets,
        }.ToJsonString();
    }

    [GeneratedRegex(@"http://\S+")]
    private static partial Regex FirstAddress();
}
