using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using static System.FormattableString;

namespace Farberth.Monitoring.Telling;

/// <summary>What a person reads: the plain sentence first, then where and since when, the caution at the end.</summary>
public sealed class NoticeWords(SiteDefinition site)
{
    /// <summary>Of what was held back, so many are written out; the rest is counted.</summary>
    const int LinesOfDigest = 30;

    const int LongestHeadline = 140;

    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);

    public Notice Of(JournalEvent happened)
    {
        var sentence = Sentence(happened);
        var text = happened is AlarmStepped { Transition: var step }
            ? $"{sentence}\n\n{Cleaned(step.Alarm.Id)}: {step.Alarm.State.Word()}, {Word(step.Alarm.Priority)} priority, since {At(step.Alarm.Since)}. {Capital(Cleaned(step.Reason))}."
            : $"{sentence}\n\nSlip {happened.Slip}, {At(happened.At)}.";
        return new(site.Name, happened.Key, happened.At, Urgency.Of(happened), Headline(sentence), text, CautionOf(happened), [happened]);
    }

    /// <summary>What was held back, in one notice.</summary>
    /// <param name="leftOut">Of more than these nothing is left but their number.</param>
    public Notice Digest(IReadOnlyList<JournalEvent> events, int leftOut)
    {
        if (events.Count == 1 && leftOut == 0)
            return Of(events[0]);
        var count = events.Count + leftOut;
        var unlisted = Math.Max(0, events.Count - LinesOfDigest) + leftOut;
        IEnumerable<string> lines =
        [
            $"{count} messages were held back, so as not to flood you:",
            .. events.Take(LinesOfDigest).Select(happened => $"{At(happened.At)}  {Sentence(happened)}"),
            .. unlisted == 0 ? Array.Empty<string>() : [$"and {unlisted} more: see the page."],
        ];
        return new(
            site.Name, $"{events[0].Key} and {count - 1} more", events[^1].At, events.Max(Urgency.Of),
            Headline($"{count} messages held back: {Sentence(events[0])}"), string.Join('\n', lines), events.Select(CautionOf).FirstOrDefault(caution => caution != null), events);
    }

    static string Sentence(JournalEvent happened) => Cleaned(happened switch
    {
        AlarmStepped { Transition: { Alarm: var alarm } step } => alarm.State switch
        {
            AlarmState.Normal or AlarmState.ReturnedUnacknowledged => $"Over: {alarm.Message}",
            AlarmState.Shelved or AlarmState.OutOfService => $"Put aside ({step.Reason}): {alarm.Message}",
            _ => alarm.Message,
        },
        AdviceChanged { Change: { TakenBack: { } why, Slip: var slip } } => $"Nothing is asked of slip {slip} any more: {why}.",
        AdviceChanged { Change.Advice.Message: var message } => message,
        _ => happened.Key,
    });

    /// <returns>Null: it tells of no hazard.</returns>
    public static string? CautionOf(JournalEvent happened) =>
        happened is AlarmStepped { Transition.Alarm.Kind: var kind } ? Cautions.Of(kind) : Cautions.Text;

    /// <summary>The first sentence, or as much of it as a line holds.</summary>
    public static string Headline(string text)
    {
        var end = text.IndexOf(". ", StringComparison.Ordinal);
        var sentence = end < 0 ? text : text[..(end + 1)];
        return sentence.Length <= LongestHeadline ? sentence : sentence[..(LongestHeadline - 1)].TrimEnd() + "…";
    }

    /// <summary>What people have written may hold line ends and worse, which have no place in a header.</summary>
    static string Cleaned(string text) => string.Concat(text.Select(letter => char.IsControl(letter) ? ' ' : letter));

    static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    static string Word(Priority priority) => priority.ToString().ToLowerInvariant();

    string At(DateTimeOffset time) => Invariant($"{TimeZoneInfo.ConvertTime(time, zone):yyyy-MM-dd HH:mm:ss}");
}
