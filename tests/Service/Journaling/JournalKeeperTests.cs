using System.Threading.Channels;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Telling;
using Farberth.Service.Journaling;
using Farberth.Service.Loop;
using Farberth.Service.Telling;
using Serilog;
using static Farberth.Service.Tests.Telling.Happened;
using Channel = Farberth.Monitoring.Ports.Channel;

namespace Farberth.Service.Tests.Journaling;

/// <summary>Keeper and teller together on the real clock, with a journal that can be taken away and a notifier that only writes down.</summary>
public sealed class JournalKeeperTests : IAsyncLifetime
{
    static readonly TimeSpan Long = TimeSpan.FromHours(1);
    static readonly Contact Ana = new("Ana", Audience.Electrician, [new(Channel.Webhook, "https://example.org/")]);

    readonly string folder = Directory.CreateTempSubdirectory("keeper-").FullName;
    readonly StubbornJournal journal;
    readonly Outbox outbox = new();
    readonly Notebook notebook = new();
    readonly ContactBook contacts = new([Ana]);
    Teller teller = null!;
    JournalKeeper keeper = null!;

    public JournalKeeperTests() => journal = new(Path.Combine(folder, "journal.sqlite"));

    static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_happened_is_in_the_journal_before_anybody_is_told()
    {
        await Start();
        journal.Answers.Reset();
        Happen(0, "a");
        Assert.Equal((0, 0), (outbox.Count, notebook.Count));

        journal.Answers.Set();
        Assert.Equal("a", await notebook.Next());
        Assert.Equal("a", (await outbox.Take(Cancel)).Topic);
        Assert.Equal(["a"], journal.Written);
    }

    [Fact]
    public async Task What_was_delivered_is_told_once_also_after_a_restart()
    {
        await Start();
        Happen(0, "a");
        await notebook.Next();
        await Stop();
        Assert.Empty(journal.Waiting(10));

        await Start();
        Happen(0, "a"); // the end of the log, played again
        Happen(1, "b");
        Assert.Equal("b", await notebook.Next());
        Assert.Equal(2, outbox.Count);
    }

    [Fact]
    public async Task Who_wants_nothing_more_is_not_told_what_was_waiting_for_him()
    {
        notebook.Answer = new TellingOutcome.TryAgain("503");
        await Start();
        Happen(0, "a");
        await notebook.Next();
        var givenUp = new TaskCompletionSource<OutboxRow>();
        teller.Told = rows =>
        {
            keeper.Note(rows);
            if (rows.FirstOrDefault(row => row.State == TellingState.GivenUp) is { } row)
                givenUp.TrySetResult(row);
        };
        keeper.Remove("Ana");

        Assert.Equal("a", (await givenUp.Task.WaitAsync(Cancel)).Event.Name);
        Assert.Equal(0, notebook.Count);
    }

    [Fact]
    public async Task What_was_not_told_before_a_restart_is_told_after_it()
    {
        notebook.Answer = new TellingOutcome.TryAgain("503");
        await Start();
        Happen(0, "a");
        await notebook.Next();
        await Stop();
        Assert.Equal(1, Assert.Single(journal.Waiting(10)).Attempts);

        notebook.Answer = new TellingOutcome.Delivered();
        await Start();
        Assert.Equal("a", await notebook.Next());
        await Stop();
        Assert.Empty(journal.Waiting(10));
    }

    [Fact]
    public async Task A_hazard_does_not_wait_for_a_journal_that_hangs_and_is_written_down_later()
    {
        await Start(new() { Hazard = TimeSpan.Zero, Other = Long });
        journal.Answers.Reset();
        Happen(0, "a");
        Happen(1, "danger", Priority.High);
        Assert.Equal(["a", "danger"], new[] { await notebook.Next(), await notebook.Next() }.Order());
        Happen(2, "b");
        Assert.Equal((2, 0), (outbox.Count, notebook.Count));

        journal.Answers.Set();
        Assert.Equal("b", await notebook.Next());
        Assert.Equal(["a", "danger", "b"], journal.Written);
        Assert.Equal(2, keeper.State.ToldFirst);
    }

    [Fact]
    public async Task With_the_journal_away_everything_is_told_and_it_is_written_down_when_it_is_back()
    {
        journal.IsAway = true;
        await Start(new() { Hazard = Long, Other = Long });
        Happen(0, "a");
        Assert.Equal("a", await notebook.Next());
        Happen(1, "b");
        Assert.Equal("b", await notebook.Next());
        Assert.Equal("the test has taken it away", keeper.State.Away);

        journal.IsAway = false;
        Happen(2, "c");
        Assert.Equal("c", await notebook.Next());
        await Stop();
        Assert.Equal(["a", "b", "c"], journal.Written);
        Assert.Empty(journal.Waiting(10));
        Assert.Equal((null, 0, 0L), (keeper.State.Away, keeper.State.Waiting, keeper.State.Lost));
    }

    [Fact]
    public async Task What_the_journal_refuses_is_told_and_the_rest_is_written_down()
    {
        journal.Refuses = entry => entry.Event.Name == "odd";
        journal.Answers.Reset();
        await Start(new() { Hazard = Long, Other = Long });
        Happen(0, "a");
        Happen(1, "odd");
        Happen(2, "b");
        journal.Answers.Set();

        Assert.Equal(["a", "b", "odd"], new[] { await notebook.Next(), await notebook.Next(), await notebook.Next() }.Order());
        await Stop();
        Assert.Equal(["a", "b"], journal.Written);
    }

    [Fact]
    public async Task A_contact_that_left_the_file_leaves_the_journal_and_one_that_was_entered_stays()
    {
        journal.Keep(new Contact("Old", Audience.Electrician, []));
        journal.Keep(new Contact("Bo", Audience.Electrician, [new(Channel.Webhook, "https://example.org/bo")]) { Origin = ContactOrigin.Entered });
        await Start();
        Happen(0, "a");
        await notebook.Next();
        await Stop();

        Assert.Equal(["Ana", "Bo"], journal.Contacts().Select(contact => contact.Name));
    }

    [Fact]
    public async Task Without_a_journal_everything_goes_out_at_once()
    {
        await Start(withJournal: false);
        Happen(0, "a");
        Assert.Equal(1, outbox.Count);
        Assert.Equal("a", await notebook.Next());
    }

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public async ValueTask DisposeAsync()
    {
        await Stop();
        journal.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    async Task Start(JournalPatience? patience = null, bool withJournal = true)
    {
        teller = new([notebook], (_, events, leftOut) => new NoticeWords(Given.FourPosts()).Digest(events, leftOut), contacts, TellingLimits.Usual with { GiveUpAfter = TimeSpan.MaxValue }, TimeProvider.System, Log.Logger);
        var setup = new JournalSetup(withJournal ? journal : null, [Ana], null) { Patience = patience ?? new() { Hazard = Long, Other = Long } };
        keeper = new(setup, Given.FourPosts(), outbox, teller, contacts, TimeProvider.System, Log.Logger);
        teller.Told = keeper.Note;
        await keeper.StartAsync(Cancel);
    }

    async Task Stop()
    {
        await teller.StopAsync(CancellationToken.None);
        await keeper.StopAsync(CancellationToken.None);
        teller.Dispose();
    }

    void Happen(int second, string id, Priority priority = Priority.Medium) => keeper.Take(
        [Step(Noon.AddSeconds(second), id, priority)], [], [new WireMessage(id, "{}"u8.ToArray())]);

    sealed class Notebook : INotifier
    {
        readonly Channel<string> told = System.Threading.Channels.Channel.CreateUnbounded<string>();

        public Channel Channel => Channel.Webhook;

        public bool IsForReading => false;

        public TellingOutcome Answer { get; set; } = new TellingOutcome.Delivered();

        public int Count => told.Reader.Count;

        public ValueTask<string> Next() => told.Reader.ReadAsync(Cancel);

        public ValueTask<TellingOutcome> Tell(Notice notice, Address address, CancellationToken cancel)
        {
            if (address.Endpoint == Ana.Addresses[0].Endpoint)
                told.Writer.TryWrite(notice.Events[0].Name);
            return ValueTask.FromResult(Answer);
        }
    }
}
