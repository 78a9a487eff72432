using System.Text;
using Farberth.Monitoring.Alarms;
using Farberth.Service;
using Farberth.Service.Views;
using static System.FormattableString;

namespace Farberth.Cli.Live;

/// <summary>What happened, in words, when the afternoon is over.</summary>
static class ClosingSummary
{
    public static string Of(SiteView view, long published, Showing showing)
    {
        var text = new StringBuilder();
        text.AppendLine(view.Now is { } now ? Invariant($"The story ended at {showing.Local(now):HH:mm} on the dock's clock.") : "The story ended before it began.");
        text.AppendLine(Invariant($"{published} readings and notices were published; {view.Counts.Received} messages came to the service, {view.Refusals.Values.Sum(tally => tally.Count)} refused."));
        text.AppendLine(view.History.Raised.IsEmpty ? "No alarm was raised."
            : "Alarms raised: " + string.Join(", ", view.History.Raised.Select(pair => $"{pair.Value} {pair.Key.Word()}")) + ".");
        var standing = view.Standing.Count(alarm => alarm.State.IsActive());
        text.AppendLine(standing == 0 ? "None is standing now." : Invariant($"{standing} still standing."));
        return text.Append(Caution.Text).ToString();
    }

    /// <summary>One transition as one line.</summary>
    public static string Line(AlarmTransition transition, Showing showing)
    {
        var alarm = transition.Alarm;
        var what = transition.IsRaise ? "raised" : alarm.State == AlarmState.Unacknowledged ? "worse" : alarm.State.Word();
        var sentence = alarm.State.IsActive() ? alarm.Message : transition.Reason;
        return Invariant($"{showing.Local(transition.At):HH:mm:ss} {what} {alarm.Id} ({alarm.Priority.ToString().ToLowerInvariant()}): {sentence}");
    }
}
