using System.Text;
using System.Text.RegularExpressions;
using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Service.Access;
using Farberth.Service.Boater;
using Farberth.Service.Views;
using Farberth.Service.Words;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;

namespace Farberth.Service.Tests.Boater;

/// <summary>The quay with four pedestals as its real monitor sees it, and the page of one of its slips.</summary>
sealed class ReadPage
{
    public static readonly Preferences English = new();

    readonly SiteMonitor monitor = new(Given.FourPosts());
    SiteView view = SiteView.AtStart(Given.FourPosts()) with { Link = new(LinkPhase.Connected) };

    public DateTimeOffset Now { get; private set; } = new(2027, 8, 3, 15, 0, 0, TimeSpan.Zero);

    public SiteView View => view;

    /// <summary>All that has happened, as the journal would get it.</summary>
    public List<JournalEvent> Events { get; } = [];

    /// <summary>All pedestals say the same seconds, each second; amps by outlet, as "Q3.A".</summary>
    public ReadPage Hear(int seconds, Func<string, double> volts, Func<string, double> amps)
    {
        for (var second = 0; second < seconds; second++)
        {
            Now = Now.AddSeconds(1);
            foreach (var pedestal in view.Site.Docks["Q"].Pedestals.Values)
                Say(pedestal, volts(pedestal.Name), amps);
            Tick();
        }
        return this;
    }

    /// <summary>Nobody says anything.</summary>
    public ReadPage Wait(TimeSpan time)
    {
        var end = Now + time;
        while (Now < end)
        {
            Now = Now.AddSeconds(1);
            Tick();
        }
        return this;
    }

    public ReadPage With(Func<SiteView, SiteView> change)
    {
        view = change(view);
        return this;
    }

    /// <summary>Of all slips and pedestals but its own.</summary>
    public IEnumerable<string> NamesOfOthers(string slip)
    {
        var posts = view.Site.Docks["Q"].Pedestals.Values;
        return view.Site.Slips.Keys.Where(name => name != slip)
            .Concat(posts.Where(post => post.Outlets.Values.All(outlet => outlet.Slip != slip)).Select(post => post.Name));
    }

    public static bool Names(string text, string name) => Regex.IsMatch(text, $@"\b{name}\b");

    public SlipNow Slip(string slip) => SlipNow.Of(view, slip, Now);

    public async Task<string> Html(string slip, Preferences? reader = null, IReadOnlyList<Episode>? past = null)
    {
        await using var services = new ServiceCollection().BuildServiceProvider();
        await using var renderer = new HtmlRenderer(services, NullLoggerFactory.Instance);
        var shown = new BoaterShown(
            view.Site, new BoatStay(1, slip, "Osprey", Now.AddDays(-1), Now.AddDays(6)), Slip(slip), past ?? [], view.Now, "token", reader ?? English, null)
        { HasMail = true, PushKey = "key" };
        return await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<BoaterPage>(
            ParameterView.FromDictionary(new Dictionary<string, object?> { [nameof(BoaterPage.Shown)] = shown }))).ToHtmlString());
    }

    void Tick()
    {
        foreach (var step in monitor.Advance(Now))
        {
            Events.AddRange(JournalEvent.Of(step));
            view = view.After(step, monitor.Refusals.Snapshot(), view.Link, view.Counts, 0);
        }
    }

    void Say(PedestalDefinition pedestal, double volts, Func<string, double> amps)
    {
        var outlets = pedestal.Outlets.Values.Select(outlet => FormattableString.Invariant(
            $"\"{outlet.Name}\":{{\"amps\":{{{string.Join(',', Enumerable.Range(0, outlet.Legs.Count).Select(at => FormattableString.Invariant($"\"{outlet.Legs[at]}\":{amps($"{pedestal.Name}.{outlet.Name}")}")))}}}}}"));
        var payload = FormattableString.Invariant(
            $"{{\"time\":\"{Now:O}\",\"volts\":{{\"L1\":{volts},\"L2\":{volts},\"L3\":{volts}}},\"outlets\":{{{string.Join(',', outlets)}}}}}");
        Assert.NotNull(monitor.Take(new(Now, new($"farberth/v1/fourposts/pedestal/{pedestal.Name}/reading", Encoding.UTF8.GetBytes(payload)))).Value);
    }
}
