using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Remembering;

namespace Farberth.HotAfternoon.Tests.Restart;

/// <summary>
/// A monitor that goes on from its memory says, byte for byte, what it would have said without the restart, and nothing in it differs to
/// the last bit (<see cref="RememberedState"/>).
/// </summary>
public class RestartIsInvisible(ITestOutputHelper output)
{
    static readonly TimeSpan Watched = TimeSpan.FromMinutes(4);

    [Fact]
    public void On_the_hot_afternoon_whenever_it_comes()
    {
        var site = Given.Site("scenarios/kestrel-cove.site.yaml");
        var (both, people, seen) = (new LockStep(site), new People(site.Name), new HashSet<string>());
        DateTimeOffset? until = null;
        var cuts = 0;
        foreach (var step in Given.Demo().Steps())
        {
            foreach (var message in step.Arrived)
            {
                both.Advance(message.At);
                both.Take(message);
            }
            both.Advance(step.Truth.Time);
            var commands = both.Last == null ? [] : people.Answer(both.Last);
            foreach (var command in commands)
                both.Take(command);
            if (step.Truth.Time < until)
                continue;
            if (until != null)
                both.Part();
            until = null;
            var isTime = step.Truth.Local is { Minute: 7 or 47, Second: 23 };
            var mayBeNew = commands.Count > 0 || step.Truth.Local.Second % 20 == 0;
            if (!isTime && !(mayBeNew && IsNew(both.Undisturbed.Memory().Docks["H"], seen)))
                continue;
            both.Restart();
            (until, cuts) = (step.Truth.Time + Watched, cuts + 1);
        }
        output.WriteLine($"{cuts} cuts, at some of them: {string.Join(", ", seen.Order())}");
        Assert.Superset(new HashSet<string> { "pending", "going", "Shelved", "Acknowledged", "OutOfService", "asked", "command" }, seen);
    }

    /// <summary>Something stands that stood at no cut before.</summary>
    static bool IsNew(DockMemory memory, HashSet<string> seen)
    {
        var before = seen.Count;
        foreach (var track in memory.Alarms.Tracks)
        {
            if (track.Condition is { Holds: false, PastSince: not null })
                seen.Add("pending");
            if (track.Condition is { Holds: true, BackSince: not null })
                seen.Add("going");
            seen.Add((track.Alarm?.State ?? AlarmState.Normal).ToString());
        }
        if (memory.Adviser.Requests.Standing.Count > 0)
            seen.Add("asked");
        if (memory.Commands.Count > 0)
            seen.Add("command");
        return seen.Count > before;
    }
}
