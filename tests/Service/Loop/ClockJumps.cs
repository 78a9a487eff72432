using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Farberth.Adapters.Mqtt;
using Farberth.Adapters.Stores.Embedded;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Service.Views;
using Serilog;

namespace Farberth.Service.Tests.Loop;

/// <summary>
/// The whole service, with a clock that is set by an hour while an alarm stands, and put right again. The pedestals' own clocks go with it, as when one
/// server sets all of them, or stay right.
/// </summary>
public sealed class ClockJumps : IAsyncLifetime
{
    // More than a 30 A outlet may carry for hours, and nothing that its breaker would remember.
    const double High = 25.2, Low = 2;

    readonly string folder = Directory.CreateTempSubdirectory("farberth-").FullName;
    readonly CancellationTokenSource giveUp = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
    readonly ClockThatJumps clock = new();
    SqliteJournal journal = default!;
    RunningService service = default!;
    MqttLink pedestals = default!;

    public async ValueTask InitializeAsync()
    {
        giveUp.CancelAfter(TimeSpan.FromMinutes(2));
        var site = SiteFile.Read(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "data", "acceptance", "gullhaven.yaml"))).Site!;
        journal = new SqliteJournal(Path.Combine(folder, "journal.sqlite"), site.Name);
        service = await RunningService.Start(
            new ServiceOptions(site, new MqttOptions("127.0.0.1", 0, ServiceOptions.ClientId(site)), BrokerPort: 0, new Uri("http://127.0.0.1:0"))
            {
                DataFolder = folder,
                Journal = journal,
            }, clock, Log.Logger);
        pedestals = MqttLink.Start(new MqttOptions("127.0.0.1", service.BrokerPort!.Value, "pedestals"), []);
        await pedestals.State.When(state => state.Phase == LinkPhase.Connected, giveUp.Token);
        await When(view => view.Link.Phase == LinkPhase.Connected);
    }

    public async ValueTask DisposeAsync()
    {
        await pedestals.DisposeAsync();
        await service.DisposeAsync();
        journal.Dispose();
        giveUp.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    [Theory]
    [InlineData(1, false)]
    [InlineData(-1, true)]
    public async Task An_alarm_goes_on_through_a_jump_of_the_clock_and_is_told_once(int hours, bool pedestalsToo)
    {
        await Stands(AlarmState.Unacknowledged, High, TimeProvider.System);
        clock.WrongBy = TimeSpan.FromHours(hours);
        TimeProvider theirs = pedestalsToo ? clock : TimeProvider.System;
        var jumped = service.View.Value.Now;
        // The ticks go on by the new time, and nobody is told of anything.
        await When(view => (view.Now - jumped)?.Duration() > TimeSpan.FromMinutes(50));
        await Stands(AlarmState.Unacknowledged, High, theirs);
        await Stands(AlarmState.ReturnedUnacknowledged, Low, theirs);
        Assert.Equal([AlarmState.Unacknowledged, AlarmState.ReturnedUnacknowledged], await Steps(2));
    }

    [Fact]
    public async Task A_clock_an_hour_behind_refuses_what_comes_from_the_future_and_says_so_until_it_is_right_again()
    {
        await Stands(AlarmState.Unacknowledged, High, TimeProvider.System);
        clock.WrongBy = TimeSpan.FromHours(-1);
        await Publish(Low, TimeProvider.System);
        var view = await When(view => view.Refusals.ContainsKey(RefusalReason.TimeAhead));
        Assert.Contains("ahead", view.Refusals[RefusalReason.TimeAhead].Last.Detail, StringComparison.Ordinal);

        clock.WrongBy = TimeSpan.Zero;
        await Stands(AlarmState.ReturnedUnacknowledged, Low, TimeProvider.System);
        Assert.Equal([AlarmState.Unacknowledged, AlarmState.ReturnedUnacknowledged], await Steps(2));
    }

    /// <summary>Readings come until the alarm is so.</summary>
    async Task Stands(AlarmState state, double amps, TimeProvider theirs)
    {
        var view = service.View.Value;
        do
        {
            await Publish(amps, theirs);
            view = await service.View.After(view, giveUp.Token);
        }
        while (!view.Standing.Any(alarm => alarm.Id == "G.G1.A.overload" && alarm.State == state) || view.Standing.Count() > 1);
    }

    async Task Publish(double amps, TimeProvider theirs)
    {
        foreach (var (pedestal, drawn) in new[] { ("G1", amps), ("G2", Low) })
            Assert.True((await pedestals.Publish(Reading(pedestal, drawn, theirs.GetUtcNow()), giveUp.Token)).IsAccepted);
    }

    async Task<SiteView> When(Func<SiteView, bool> condition)
    {
        var view = service.View.Value;
        while (!condition(view))
            view = await service.View.After(view, giveUp.Token);
        return view;
    }

    /// <summary>Of the alarm, as they were written down, once there are so many.</summary>
    async Task<IEnumerable<AlarmState>> Steps(int count)
    {
        IReadOnlyList<AlarmState> steps;
        for (var view = service.View.Value; (steps = Steps()).Count < count;)
            view = await service.View.After(view, giveUp.Token);
        return steps;
    }

    IReadOnlyList<AlarmState> Steps() =>
        [.. journal.History(new JournalQuery()).Events.Reverse().OfType<AlarmStepped>().Select(stepped => stepped.Transition.Alarm.State)];

    static WireMessage Reading(string pedestal, double amps, DateTimeOffset time) => new($"farberth/v1/gullhaven/pedestal/{pedestal}/reading",
        Encoding.UTF8.GetBytes(new JsonObject
        {
            ["time"] = time.ToString("O", CultureInfo.InvariantCulture),
            ["volts"] = new JsonObject { ["L1"] = Math.Round(120.5 - 0.05 * amps, 1), ["L2"] = 120.3 },
            ["outlets"] = new JsonObject { ["A"] = new JsonObject { ["amps"] = new JsonObject { ["L1"] = amps } } },
        }.ToJsonString()));
}
