using System.Text.Encodings.Web;
using System.Text.Json;
using Farberth.Monitoring.Telling;

namespace Farberth.Adapters.Notifiers.WebPush;

/// <summary>What the page's service worker gets: title, body, tag and priority, and of whom it is known the way out; cut to what a push message holds.</summary>
static class PushPayload
{
    static readonly JsonSerializerOptions Writing = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static byte[] Of(Notice notice)
    {
        // The longest text that fits, found by halving: letters differ in how many bytes they take.
        var (fits, tooLong) = (0, notice.Text.Length + 1);
        while (tooLong - fits > 1)
        {
            var middle = (fits + tooLong) / 2;
            (fits, tooLong) = With(notice, middle).Length <= PushEncryption.LongestPlaintext ? (middle, tooLong) : (fits, middle);
        }
        return With(notice, fits);
    }

    /// <summary>The caution stands after the text, and is not what is cut off.</summary>
    static byte[] With(Notice notice, int length)
    {
        var text = length < notice.Text.Length ? notice.Text[..length] + "…" : notice.Text;
        var members = new SortedDictionary<string, string>(StringComparer.Ordinal)
        {
            ["title"] = $"{notice.Site}: {notice.Headline}",
            ["body"] = notice.Caution == null ? text : $"{text}\n\n{notice.Caution}",
            ["tag"] = notice.Events[0].Name,
            ["priority"] = notice.Priority.ToString().ToLowerInvariant(),
        };
        if (notice.WayOut is { Address: var stop, Button: var button })
            (members["stop"], members["stop-button"]) = (stop.AbsoluteUri, button);
        return JsonSerializer.SerializeToUtf8Bytes(members, Writing);
    }
}
