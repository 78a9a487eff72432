using System.Text;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon.Tests.Restart;

/// <summary>
/// People who deal with each new alarm in turn: they leave it, acknowledge it, shelve it for ten minutes, or take it out of service; and one
/// who asks for what cannot be.
/// </summary>
sealed class People(string site)
{
    int dealtWith;

    public IReadOnlyList<RecordedMessage> Answer(DockStep step) =>
    [
        .. from transition in step.Transitions
           where transition.IsRaise
           from command in Commands(transition.Alarm, step.Now)
           select new RecordedMessage(step.Now, new($"farberth/v1/{site}/alarm/{transition.Alarm.Id}/{command.Word}", Encoding.UTF8.GetBytes(command.Payload))),
    ];

    IEnumerable<(string Word, string Payload)> Commands(Alarm alarm, DateTimeOffset now)
    {
        var (by, why) = ($"\"time\":\"{now:O}\",\"by\":\"Ada\"", "\"reason\":\"known\"");
        return (dealtWith++ % 5) switch
        {
            0 => [("acknowledge", $"{{{by}}}")],
            1 => [("shelve", $"{{{by},{why},\"until\":\"{now.AddMinutes(10):O}\"}}")],
            2 => [("out-of-service", $"{{{by},{why}}}")],
            3 => [("return-to-service", $"{{{by}}}"), ("shelve", "{oops")],
            _ => [],
        };
    }
}
