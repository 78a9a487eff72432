using CsCheck;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Alarms;

/// <summary>Random findings, suspicions, acknowledgements, shelves and maintenance: nothing is lost, nothing hangs, and it is the same each time.</summary>
public class AlarmBookProperties
{
    sealed record Move(int Seconds, double[] Margins, Priority Priority, bool IsPending, int Command, int Alarm, int Minutes);

    static readonly Gen<double> Margin = Gen.Frequency((3, Gen.Const(-1.0)), (1, Gen.Const(-0.02)), (4, Gen.Const(0.5)));

    static readonly Gen<Move> Moves = Gen.Select(
        Gen.OneOf(Gen.Int[1, 40], Gen.Int[1, 900]), Margin.Array[AlarmBookStory.Alarms],
        Gen.Frequency((4, Gen.Const(Priority.Low)), (1, Gen.Const(Priority.High))), Gen.Frequency((5, Gen.Const(false)), (1, Gen.Const(true))),
        Gen.Int[0, 9], Gen.Int[0, AlarmBookStory.Alarms - 1], Gen.Int[-5, 100],
        (seconds, margins, priority, isPending, command, alarm, minutes) => new Move(seconds, margins, priority, isPending, command, alarm, minutes));

    /// <summary>Each situation lasts some ticks, so that delays run out.</summary>
    static readonly Gen<(Move Move, int Ticks)[]> Stories = Gen.Select(Moves, Gen.Int[1, 12]).Array[1, 25];

    [Fact]
    public void Whatever_happens_no_raise_is_lost_and_nothing_hangs() => Stories.Sample(moves =>
    {
        var story = Play(moves);
        var good = Enumerable.Repeat(-1.0, AlarmBookStory.Alarms).ToArray();
        // Twenty minutes for what chatters, and a shelf of a hundred.
        for (var minute = 0; minute < 130; minute++)
            story.Tick(60, good, Priority.Low, false);
        Assert.All(story.Standing, alarm => Assert.True(alarm.State is AlarmState.ReturnedUnacknowledged or AlarmState.OutOfService, alarm.State.ToString()));
        story.Tick(1, good, Priority.Low, false, [.. story.Standing.Select(alarm => Close(story, alarm))]);
        Assert.Empty(story.Standing);
    }, iter: 400);

    [Fact]
    public void The_same_story_goes_the_same_way() => Stories.Sample(
        moves => Assert.Equal(Play(moves).Log, Play(moves).Log), iter: 50);

    /// <summary>Else the properties would hold of nothing.</summary>
    [Fact]
    public void The_stories_reach_every_state_by_every_event()
    {
        var seen = new System.Collections.Concurrent.ConcurrentDictionary<string, int>();
        Stories.Sample(moves =>
        {
            foreach (var line in Play(moves).Log)
                seen.AddOrUpdate(string.Join(' ', line.Split(' ')[2..4]), 1, (_, count) => count + 1);
        }, iter: 300);
        var expected =
            from before in Enum.GetValues<AlarmState>()
            from happened in Enum.GetValues<AlarmEvent>()
            let after = AlarmLifecycle.Next(before, happened)
            where after != null
            select $"{before} {after}";
        Assert.All(expected.Distinct(), step => Assert.True(seen.ContainsKey(step), step));
    }

    static AlarmBookStory Play((Move Move, int Ticks)[] moves)
    {
        var story = new AlarmBookStory();
        foreach (var (move, ticks) in moves)
            for (var tick = 0; tick < ticks; tick++)
                story.Tick(move.Seconds, move.Margins, move.Priority, move.IsPending, tick == 0 ? Commands(story, move) : []);
        return story;
    }

    static AlarmCommand[] Commands(AlarmBookStory story, Move move)
    {
        var id = AlarmBookStory.Id(move.Alarm);
        return move.Command switch
        {
            0 or 1 => [new Acknowledgement(story.Now, id, "Ines")],
            2 or 3 => [new ShelveRequest(story.Now, id, "Ines", story.Now.AddMinutes(move.Minutes), "known")],
            4 => [new UnshelveRequest(story.Now, id, "Bo")],
            5 => [new OutOfServiceRequest(story.Now, id, "Bo", "repair")],
            6 => [new ReturnToServiceRequest(story.Now, id, "Bo")],
            7 => [.. Enumerable.Range(0, AlarmBookStory.Alarms).Select(one => new Acknowledgement(story.Now, AlarmBookStory.Id(one), "Ines"))],
            _ => [],
        };
    }

    static AlarmCommand Close(AlarmBookStory story, Alarm alarm) => alarm.State == AlarmState.OutOfService
        ? new ReturnToServiceRequest(story.Now, alarm.Id, "Bo") : new Acknowledgement(story.Now, alarm.Id, "Ines");
}
