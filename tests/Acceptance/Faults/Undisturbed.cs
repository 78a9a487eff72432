using Farberth.Tests.Fixtures;

namespace Farberth.Acceptance.Tests.Faults;

/// <summary>
/// Service, broker and database killed at random moments, in the middle of readings, alarms and answers. At the end of each round alarms
/// and their states are those of a service that nobody has disturbed, also on the broker; at the end of all every reading that the
/// broker took is in the history once, and the journal has the same steps. The long forms:
/// <c>./Farberth.Acceptance.Tests -class '*.Undisturbed' -explicit only -showliveoutput</c>; FAULT_ROUNDS asks for other numbers of kills.
/// </summary>
public class Undisturbed(ITestOutputHelper output)
{
    static readonly int? AskedFor = int.TryParse(Environment.GetEnvironmentVariable("FAULT_ROUNDS"), out var rounds) ? rounds : null;

    static CancellationToken Patience => CancellationTokenSource.CreateLinkedTokenSource(
        TestContext.Current.CancellationToken, new CancellationTokenSource(TimeSpan.FromMinutes(1)).Token).Token;

    [Fact]
    public Task A_few_kills_of_the_service_change_nothing() => Service(rounds: 3);

    [Fact(Explicit = true)]
    public Task Two_hundred_kills_of_the_service_change_nothing() => Service(AskedFor ?? 200);

    [Fact]
    public Task A_few_kills_of_the_broker_change_nothing() => Broker(rounds: 3);

    [Fact(Explicit = true)]
    public Task Fifty_kills_of_the_broker_change_nothing() => Broker(AskedFor ?? 50);

    [Fact]
    public Task A_few_kills_of_the_database_change_nothing() => Database(rounds: 3);

    [Fact(Explicit = true)]
    public Task Fifty_kills_of_the_database_change_nothing() => Database(AskedFor ?? 50);

    async Task Service(int rounds)
    {
        await using var twins = await Twins.Start(Patience);
        await Run(twins, rounds, async () =>
        {
            await twins.KillService();
            await twins.StartDisturbed();
        });
    }

    /// <summary>
    /// It has run for a minute before the first kill, so that it has saved the service's session once: else it would say that it has a
    /// reading, and keep it for nobody.
    /// </summary>
    async Task Broker(int rounds)
    {
        await using var twins = await Twins.Start(Patience);
        await twins.Broker.Save(Patience);
        await Run(twins, rounds, async () =>
        {
            await twins.Broker.Kill(Patience);
            await twins.Broker.Restart(Patience);
            await twins.PublishAgain(Patience);
        });
    }

    async Task Database(int rounds)
    {
        await using var server = new PostgresServer();
        await server.InitializeAsync();
        await using var twins = await Twins.Start(Patience, "--journal", await server.Database(Patience));
        await Run(twins, rounds, async () =>
        {
            await server.Kill(Patience);
            await server.Start(Patience);
        });
    }

    async Task Run(Twins twins, int rounds, Func<Task> disturb)
    {
        var (began, random, dock) = (DateTimeOffset.UtcNow, new Random(rounds), new TwoPedestals(twins));
        await dock.Publish(Patience);
        for (var round = 0; round < rounds; round++)
        {
            await Round(twins, dock, random, disturb);
            TestContext.Current.SendDiagnosticMessage($"kill {round + 1} of {rounds}, {2 * dock.Readings} readings");
        }
        var (calm, disturbed) = await twins.Steps(Patience);
        await twins.Disturbed.WhenView(view => (long)view["store"]!["unread"]! == 0).WaitAsync(Patience);
        await twins.Disturbed.DisposeAsync();
        var found = TwoPedestals.Names.Select(name => twins.Found(name, began.AddMinutes(-1))).ToList();
        output.WriteLine($"{rounds} kills, {2 * dock.Readings} readings published, {found.Sum(one => one.Count)} in the history, "
            + $"{disturbed.Length} steps of alarms, {calm.Length} in the undisturbed run");
        Assert.Equal(calm, disturbed);
        Assert.All(found, seqs => Assert.Equal(Enumerable.Range(0, dock.Readings).Select(seq => (long)seq), seqs));
    }

    /// <summary>Something happens, somebody is killed meanwhile, and in the end all is as if he had not been.</summary>
    static async Task Round(Twins twins, TwoPedestals dock, Random random, Func<Task> disturb)
    {
        var isOver = false;
        twins.BeginRound();
        var moment = FileWrites.After(twins.Data, random.Next(1, 80));
        var publishing = dock.Next(random, () => Volatile.Read(ref isOver), TestContext.Current.CancellationToken);
        await Task.WhenAny(moment, publishing, twins.WhenStanding(dock.Standing, Patience));
        await disturb();
        try
        {
            await Task.WhenAny(publishing, twins.WhenStanding(dock.Standing, Patience)).Unwrap();
        }
        finally
        {
            Volatile.Write(ref isOver, true);
        }
        await publishing;
    }
}
