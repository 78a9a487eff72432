using System.Text;
using Farberth.Adapters.Mqtt;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Views;
using Microsoft.Extensions.DependencyInjection;
using Serilog;

namespace Farberth.Service.Tests.Loop;

/// <summary>The whole service on a clock that stands between two ticks.</summary>
public sealed class BeforeItsTick : IAsyncLifetime
{
    static readonly DateTimeOffset Start = new(2027, 7, 17, 15, 0, 0, TimeSpan.Zero);

    readonly CancellationTokenSource giveUp = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
    readonly ClockThatStands clock = new(Start);
    RunningService service = default!;
    MqttLink pedestals = default!;

    public async ValueTask InitializeAsync()
    {
        giveUp.CancelAfter(TimeSpan.FromMinutes(2));
        var site = SiteFile.Read(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml"))).Site!;
        service = await RunningService.Start(
            new ServiceOptions(site, new MqttOptions("127.0.0.1", 0, ServiceOptions.ClientId(site)), BrokerPort: 0, new Uri("http://127.0.0.1:0")), clock, Log.Logger);
        pedestals = MqttLink.Start(new MqttOptions("127.0.0.1", service.BrokerPort!.Value, "pedestals"), []);
        await pedestals.State.When(state => state.Phase == LinkPhase.Connected, giveUp.Token);
    }

    public async ValueTask DisposeAsync()
    {
        await pedestals.DisposeAsync();
        await service.DisposeAsync();
        giveUp.Dispose();
    }

    [Fact]
    public async Task A_reading_is_shown_as_it_arrives_and_judged_at_the_next_tick()
    {
        // Again and again, until the service has subscribed.
        var view = service.View.Value;
        for (var second = 1; Measured(view, "G1") != 120.4; second++)
        {
            clock.Now = Start.AddSeconds(second).AddMilliseconds(100);
            await Say("G1", 120.4, Start.AddSeconds(second));
            await Say("G2", 119.8, Start.AddSeconds(second));
            view = await service.View.After(view, giveUp.Token);
        }
        view = await When(one => one.Docks.TryGetValue("G", out var step) && step.Picture.Image.Pedestals["G1"].Latest?.Volts[Grid.Network.Leg.L1] == 120.4);
        var tick = view.Now!.Value;

        await Say("G1", 117.3, clock.GetUtcNow().AddMilliseconds(50));
        view = await When(one => Measured(one, "G1") == 117.3);
        Assert.Equal(tick, view.Now);
        Assert.Equal(120.4, view.Docks["G"].Picture.Image.Pedestals["G1"].Latest!.Volts[Grid.Network.Leg.L1]);
        Assert.Equal(119.8, Measured(view, "G2"));

        clock.Now = tick.AddSeconds(1.1);
        view = await When(one => one.Now > tick);
        Assert.Equal(117.3, view.Docks["G"].Picture.Image.Pedestals["G1"].Latest!.Volts[Grid.Network.Leg.L1]);
    }

    double? Measured(SiteView view, string pedestal)
    {
        var shown = service.Parts.GetRequiredService<ShownNow>().Of(view).Docks.SelectMany(dock => dock.Pedestals).FirstOrDefault(one => one.Name == pedestal);
        return shown?.Measured.TryGetValue("L1", out var volts) == true ? volts : null;
    }

    async Task<SiteView> When(Func<SiteView, bool> condition)
    {
        var view = service.View.Value;
        while (!condition(view))
            view = await service.View.After(view, giveUp.Token);
        return view;
    }

    async Task Say(string pedestal, double volts, DateTimeOffset time) => Assert.True((await pedestals.Publish(new WireMessage(
        $"farberth/v1/gullhaven/pedestal/{pedestal}/reading",
        Encoding.UTF8.GetBytes(FormattableString.Invariant($$$"""{"time":"{{{time:O}}}","volts":{"L1":{{{volts}}},"L2":120.3}}"""))), giveUp.Token)).IsAccepted);
}
