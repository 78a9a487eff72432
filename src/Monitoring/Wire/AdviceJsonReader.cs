using System.Text.Json;
using System.Text.Json.Nodes;
using Farberth.Monitoring.Advice;

namespace Farberth.Monitoring.Wire;

/// <summary>Reads back what <see cref="AdviceJson"/> has written; times to the millisecond, without the legs that were asked.</summary>
public static class AdviceJsonReader
{
    /// <param name="json">One line of a list of changes.</param>
    /// <exception cref="FormatException">It is no such line.</exception>
    public static AdviceChange Change(string json)
    {
        try
        {
            var members = JsonNode.Parse(json)!.AsObject();
            var ask = Enum.GetValues<Ask>().Cast<Ask?>().FirstOrDefault(one => one!.Value.Word() == (string?)members["ask"])
                ?? throw new FormatException("something is asked that nobody knows");
            var advice = new BoaterAdvice(
                Time("time"), Text("slip"), ask, (double?)members["amps"] ?? double.NaN, Text("message"), Time("until"), Text("why"));
            return new(Time("at"), advice, (string?)members["taken-back"]);

            DateTimeOffset Time(string name) => members[name]!.GetValue<DateTimeOffset>();
            string Text(string name) => (string)members[name]!;
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or NullReferenceException or ArgumentException)
        {
            throw new FormatException($"no change of advice: {e.Message}", e);
        }
    }
}
