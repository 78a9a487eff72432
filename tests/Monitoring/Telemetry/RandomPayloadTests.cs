using System.Text;
using CsCheck;
using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;
using static Farberth.Monitoring.Tests.Telemetry.TelemetrySite;

namespace Farberth.Monitoring.Tests.Telemetry;

public class RandomPayloadTests
{
    static readonly byte[] Good = """
        {"time":"2027-07-17T15:04:05.250Z","seq":4711,"volts":{"L1":112.3,"L2":113.0},
         "outlets":{"A":{"amps":{"L1":23.1},"watts":{"L1":2470},"celsius":48.5,"leakage-ma":2.1,"closed":true},"B":{"amps":{"L2":0.0}}}}
        """u8.ToArray();

    static readonly string[] Topics =
    [
        "pedestal/C12/reading", "pedestal/C1/reading", "pedestal/C12/link", "weather", "slip/C-23/boat",
        "alarm/C.C12.A.overload/acknowledge", "alarm/C.C12.A.overload/shelve", "alarm/C.C12.meter-silent/out-of-service", "alarm/C.C12.A.overload", "pedestal/C99/reading", "no/such/topic",
    ];

    static readonly Gen<string> Word = Gen.OneOf("time", "volts", "outlets", "L1", "L2", "L3", "N", "A", "B", "Z", "amps", "watts",
        "celsius", "leakage-ma", "closed", "seq", "online", "present", "by", "until", "reason", "humidity", "forecast", "\\ud800", "\\u0041");

    static readonly Gen<string> Scalar = Gen.OneOf(
        Gen.Double.Select(d => double.IsFinite(d) ? d.ToString("R") : "1e999"),
        Gen.Double[-10, 400].Select(d => d.ToString("R")),
        Gen.OneOf("1e999", "-1e999", "-0.0", "null", "true", "false", "\"NaN\"", "\"2027-07-17T15:04:05Z\"", "\"2027-07-17T15:04:05\"",
            "\"9999-12-31T23:59:59-14:00\"", "\"0001-01-01T00:00:00+14:00\"", "\"\"", "NaN", "123456789012345678901234567890"),
        Word.Select(w => $"\"{w}\""));

    // A payload out of the words of the contract, in any arrangement, most of it wrong in one way or another.
    static readonly Gen<byte[]> RandomJson = Gen.Recursive<string>((depth, inner) => depth > 4 ? Scalar : Gen.Frequency(
            (4, Scalar),
            (3, Gen.Select(Word, inner).Array[0, 4].Select(members => "{" + string.Join(',', members.Select(m => $"\"{m.Item1}\":{m.Item2}")) + "}")),
            (1, inner.Array[0, 3].Select(items => "[" + string.Join(',', items) + "]"))))
        .Array[0, 6].SelectMany(values => Word.Array[values.Length].Select(words =>
            Encoding.UTF8.GetBytes("{" + string.Join(',', values.Zip(words, (v, w) => $"\"{w}\":{v}")) + "}")));

    // One to four bytes of a good payload changed, taken away or doubled.
    static readonly Gen<byte[]> Mutated = Gen.Select(Gen.Int[0, 2], Gen.Int[0, Good.Length - 1], Gen.Byte).Array[1, 4].Select(changes =>
    {
        var bytes = Good.ToList();
        foreach (var (kind, where, value) in changes)
        {
            var at = where % bytes.Count;
            if (kind == 0)
                bytes[at] = value;
            else if (kind == 1)
                bytes.RemoveAt(at);
            else
                bytes.Insert(at, bytes[at]);
        }
        return bytes.ToArray();
    });

    [Fact]
    public void A_hundred_thousand_random_payloads_are_decoded_ignored_or_refused_with_a_reason()
    {
        int taken = 0, refused = 0, ignored = 0;
        var decoder = Decoder();
        Gen.Select(Gen.OneOf(Topics), Gen.Frequency((1, Gen.Byte.Array[0, 300]), (2, RandomJson), (2, Mutated))).Sample((topic, payload) =>
        {
            var decoded = decoder.Decode(Message(topic, payload), Now);
            Interlocked.Add(ref taken, decoded.Value is null ? 0 : 1);
            Interlocked.Add(ref refused, decoded.Refusals.Count > 0 ? 1 : 0);
            Interlocked.Add(ref ignored, decoded.Ignored ? 1 : 0);
            return IsWellFormed(decoded);
        }, iter: 100_000);
        // Else the generators would miss what they are for.
        Assert.True(taken > 300 && refused > 1_000 && ignored > 1_000, $"taken {taken}, refused {refused}, ignored {ignored}");
    }

    static bool IsWellFormed(Decoded decoded)
    {
        if (decoded.Ignored)
            return decoded.Value is null && decoded.Refusals.Count == 0;
        if (decoded.Value is null && decoded.Refusals.Count == 0)
            return false;
        if (decoded.Refusals.Any(r => r.Detail.Length is 0 or > Refusal.LongestText || r.Excerpt.Length > Refusal.ExcerptBytes))
            return false;
        return decoded.Value is null || (decoded.Value.Time <= Now.AddMinutes(5) && (decoded.Value is not Reading reading || IsPlausible(reading)));
    }

    static bool IsPlausible(Reading reading)
    {
        var outlets = TelemetrySite.Site.Docks["C"].Pedestals[reading.Pedestal].Outlets;
        return reading.Volts.Legs.Count > 0 && InRange(reading.Volts, 0, 360)
            && reading.Outlets.All(outlet => outlets.ContainsKey(outlet.Key)
                && InRange(outlet.Value.Amps, 0, double.MaxValue)
                && InRange(outlet.Value.Watts, double.MinValue, double.MaxValue)
                && outlet.Value.Amps.Legs.All(outlets[outlet.Key].Legs.Contains));
    }

    static bool InRange(PerLeg values, double lowest, double highest) =>
        values.Legs.All(leg => values[leg] >= lowest && values[leg] <= highest) && !values.Has(Leg.N);
}
