using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using Farberth.Monitoring.Words;
using Farberth.Service.Access;
using Farberth.Service.Loop;
using Microsoft.EntityFrameworkCore;
using Serilog;

namespace Farberth.Service.Acting;

/// <summary>
/// What people can do to what stands: the same messages that the broker may bring, kept in the same log, heard by the same monitor; it
/// does not matter whether the broker is there. Each is in the audit with who asked and what came of it.
/// </summary>
sealed class Actions(SiteDefinition site, Asking asking, Audit audit, TimeProvider clock, ILogger log)
{
    /// <summary>The next tick brings an answer; a service that has so much to do that it does not come still has what was asked on disk.</summary>
    static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    public Task<Answer> Acknowledge(string alarm, string by) => Command(alarm, "acknowledge", by, []);

    /// <param name="until">Within the hours that its priority allows.</param>
    public Task<Answer> Shelve(string alarm, string by, DateTimeOffset until, string reason) =>
        Command(alarm, "shelve", by, [("until", Text(until)), ("reason", reason)]);

    public Task<Answer> Unshelve(string alarm, string by) => Command(alarm, "unshelve", by, []);

    public Task<Answer> OutOfService(string alarm, string by, string reason) => Command(alarm, "out-of-service", by, [("reason", reason)]);

    public Task<Answer> ReturnToService(string alarm, string by) => Command(alarm, "return-to-service", by, []);

    /// <summary>Whether a boat lies in a slip.</summary>
    public Task<Answer> BoatPresent(string slip, bool isPresent, string by) =>
        Ask($"slip/{slip}/boat", writer => writer.WriteBoolean("present", isPresent), by, isPresent ? "boat is there" : "boat has left", slip);

    Task<Answer> Command(string alarm, string what, string by, IReadOnlyList<(string Name, string Value)> members) => AlarmAddress.Exists(site, alarm)
        ? Ask($"alarm/{alarm}/{what}", writer =>
        {
            writer.WriteString("by", by);
            foreach (var (name, value) in members)
                writer.WriteString(name, value);
        }, by, what + " alarm", alarm)
        : Task.FromResult(new Answer(AnswerKind.Unknown, Sentence.Of("the site can have no alarm of that name")));

    async Task<Answer> Ask(string topic, Action<Utf8JsonWriter> members, string by, string what, string which)
    {
        var now = clock.GetUtcNow();
        using var payload = new MemoryStream();
        using (var writer = new Utf8JsonWriter(payload))
        {
            writer.WriteStartObject();
            writer.WriteString("time", Text(now));
            members(writer);
            writer.WriteEndObject();
        }
        var answer = await Answered(new(now, new WireMessage($"farberth/v1/{site.Name}/{topic}", payload.ToArray()))).ConfigureAwait(false);
        await Write(by, what, which, answer).ConfigureAwait(false);
        return answer;
    }

    async Task<Answer> Answered(RecordedMessage message)
    {
        var answer = asking.Ask(message);
        try
        {
            return await answer.WaitAsync(Patience, TimeProvider.System).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            return asking.Withdraw(answer) ? new(AnswerKind.NotNow, Sentence.Of("the monitor is too busy to hear it"))
                : new(AnswerKind.Taken, Sentence.Of("it is kept, and the monitor has not answered yet"));
        }
    }

    /// <summary>What was done is done, also where nobody can write down who did it.</summary>
    async Task Write(string by, string what, string which, Answer answer)
    {
        try
        {
            await audit.Write(by, what, which, answer.Kind == AnswerKind.Done ? "done" : $"{answer.Why}").ConfigureAwait(false);
        }
        catch (Exception e) when (e is DbException or DbUpdateException)
        {
            log.Error("{By}: {What} {Which}, {Outcome}. The audit does not take it: {Problem}", by, what, which, answer.Kind, e.Message);
        }
    }

    static string Text(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'", CultureInfo.InvariantCulture);
}
