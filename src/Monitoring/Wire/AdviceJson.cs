using System.Text.Json;
using Farberth.Monitoring.Advice;

namespace Farberth.Monitoring.Wire;

/// <summary>What is asked of a slip, as others read it.</summary>
public static class AdviceJson
{
    public static byte[] Of(BoaterAdvice advice) => WireJson.Object(writer => Write(writer, advice));

    /// <summary>
    /// The advice object with the moment of its change in front: one line of a list of changes. Where it was taken back, "taken-back"
    /// says why; then nothing is asked of that slip any more.
    /// </summary>
    public static byte[] Of(AdviceChange change) => WireJson.Object(writer =>
    {
        writer.Time("at", change.At);
        Write(writer, change.Advice);
        if (change.TakenBack != null)
            writer.WriteString("taken-back", change.TakenBack);
    });

    static void Write(Utf8JsonWriter writer, BoaterAdvice advice)
    {
        writer.Time("time", advice.Time);
        writer.WriteString("slip", advice.Slip);
        writer.WriteString("ask", advice.Ask.Word());
        writer.Number("amps", advice.Amps, 1);
        writer.WriteString("message", advice.Message);
        writer.Time("until", advice.Until);
        writer.WriteString("why", advice.Why);
    }
}
