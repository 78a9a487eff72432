using System.Net.Mail;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Ports;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telling;
using Farberth.Service.Telling;
using Farberth.Service.Words;

namespace Farberth.Service.Boater;

/// <summary>
/// What a boater is told, in his language and in the words of his page. The monitor's own sentences give their reason with the names of
/// other pedestals and slips, so nothing of them is used.
/// </summary>
sealed class BoaterNotices(SiteDefinition site, BoaterLinks links, PublicAddress address, NotifyOptions options)
{
    /// <summary>Of what was held back, so many are written out; the rest is counted.</summary>
    const int LinesOfDigest = 30;

    readonly TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZone);

    /// <param name="events">At least one.</param>
    /// <param name="leftOut">Of more than these nothing is left but their number.</param>
    public Notice Of(Contact to, IReadOnlyList<JournalEvent> events, int leftOut)
    {
        var words = WordBook.OfBoater(WordBook.Known(to.Language) ?? WordBook.Languages[0]);
        var write = new Writing(new() { Language = words.Language }, zone);
        var text = new RequestText(words, write, site);
        List<IReadOnlyList<string>> said = [.. events.Select(happened => Paragraphs(happened, text, words))];
        var (headline, body) = events.Count == 1 && leftOut == 0
            ? (said[0][0], string.Join('\n', [.. said[0], "", words["notice.where", to.Slip!, write.DayAndTime(events[0].At)]]))
            : Digest([.. events.Zip(said, (happened, lines) => $"{write.DayAndTime(happened.At)}: {lines[0]}")], leftOut, words);
        return new(
            site.Name, events.Count == 1 && leftOut == 0 ? events[0].Key : $"{events[0].Key} and {events.Count + leftOut - 1} more", events[^1].At,
            events.Max(Urgency.Of), NoticeWords.Headline(headline), body, events.Any(one => NoticeWords.CautionOf(one) != null) ? words["caution"] : null, events)
        {
            High = words["notice.high"],
            WayOut = Out(to, words),
        };
    }

    static (string Headline, string Text) Digest(List<string> lines, int leftOut, WordBook words)
    {
        var (count, unlisted) = (lines.Count + leftOut, Math.Max(0, lines.Count - LinesOfDigest) + leftOut);
        var headline = words["notice.held-back", $"{count}"];
        return (headline, string.Join('\n', [
            headline, .. lines.Take(LinesOfDigest), .. unlisted == 0 ? Array.Empty<string>() : [words["notice.more", $"{unlisted}"]]]));
    }

    /// <summary>The first says what it is about; never empty.</summary>
    static IReadOnlyList<string> Paragraphs(JournalEvent happened, RequestText text, WordBook words) => happened switch
    {
        AlarmStepped { Transition.Alarm: { State: AlarmState.Normal or AlarmState.ReturnedUnacknowledged } over } =>
            [words["notice.over", text.What(over)]],
        AlarmStepped { Transition.Alarm: var alarm } => [$"{Capital(text.What(alarm))}.", text.Do(alarm.Kind)],
        AdviceChanged { Change: { TakenBack: not null, Advice.Ask: var ask } } => [words[ask == Ask.Unplug ? "notice.taken-back-unplug" : "notice.taken-back"]],
        AdviceChanged { Change.Advice: var asked } => [.. text.Request(asked), words["do.cord-last"]],
        _ => throw new ArgumentException($"an event of a kind that nobody knows: {happened}", nameof(happened)),
    };

    /// <summary>Who has entered himself gets a link that ends it; who stands in the file of settings is taken out by those who keep it.</summary>
    WayOut? Out(Contact to, WordBook words)
    {
        if (to.Origin == ContactOrigin.Entered)
        {
            var stop = address.To($"/b/stop/{links.StopCode(to.Name)}?lang={words.Language}");
            return new(stop, words["notice.stop", stop.AbsoluteUri], words["notice.stop-button"]);
        }
        if (options.Mail is not { From: var from } || !MailAddress.TryCreate(from, out var office))
            return null;
        return new(new($"mailto:{office.Address}"), words["notice.stop-office", office.Address], words["notice.stop-button"]);
    }

    static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
