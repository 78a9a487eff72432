using System.Buffers;
using System.IO.Compression;
using System.Text;
using Farberth.Adapters.Recordings;
using Farberth.Adapters.Stores.InfluxDb;
using Farberth.Adapters.Stores.Intake;
using Farberth.Adapters.Tests.Stores;
using Farberth.Adapters.Tests.Stores.InfluxDb;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Fuzzing;

/// <summary>Whatever comes from outside is taken or refused with a reason: nothing of it ends, stops or fills the program.</summary>
public sealed class FuzzTests(ITestOutputHelper output) : IDisposable
{
    const string Site = """
        site: gullhaven
        timezone: America/Halifax
        supply: 120/240 V single-phase 3-wire
        docks:
          G:
            source: { no-load: 121 V, transformer: { rating: 50 kVA, impedance: 2.4 %, x/r: 1.5 } }
            cables:
              - { from: source, to: G1, length: 40 m, conductor: 4/0 AWG Al, raceway: pvc }
            pedestals:
              G1: { outlets: { A: { rating: 30 A, legs: [L1], slip: G-1 }, B: { rating: 50 A, legs: [L1, L2] } } }
        slips: { G-1: { length: 30 ft } }
        alarms:
          overload: { raise-after: 1 s, clear-after: 1 s, deadband: 3 % }
        """;

    static readonly string[] Payloads =
    [
        """{"time":"2027-07-17T11:59:05.250Z","seq":4711,"volts":{"L1":112.3,"L2":113.0},"outlets":{"A":{"amps":{"L1":23.1},"watts":{"L1":2470},"celsius":48.5,"leakage-ma":2.1,"closed":true}}}""",
        """{"time":"2027-07-17T11:59:05Z","online":true}""",
        """{"time":"2027-07-17T11:59:05Z","by":"Ines","until":"2027-07-17T12:30:00Z","reason":"the boat is being rewired"}""",
    ];

    static readonly string[] Topics =
        ["pedestal/G1/reading", "pedestal/G1/link", "weather", "slip/G-1/boat", "alarm/G.G1.A.overload/shelve", "alarm/G.G1.A.overload/acknowledge", "x"];

    readonly TemporaryFolder folder = new();

    public static TheoryData<int> Shortly => [FuzzFor.Short];

    public static TheoryData<int> AtLength => [FuzzFor.Long];

    public void Dispose() => folder.Dispose();

    [Theory, MemberData(nameof(Shortly))]
    public async Task Messages(int seconds)
    {
        var decoder = new InboundDecoder(SiteFile.Read(Site).Site!);
        await Run("messages", seconds, [.. Payloads.Select(Encoding.UTF8.GetBytes)], input =>
        {
            var topic = Topics[input.Length % Topics.Length];
            var decoded = decoder.Decode(new($"farberth/v1/gullhaven/{topic}", input), Given.Noon);
            Assert.True(decoded.Ignored || decoded.Value is not null || decoded.Refusals.Count > 0);
        });
    }

    [Theory(Explicit = true), MemberData(nameof(AtLength))]
    public Task Messages_at_length(int seconds) => Messages(seconds);

    [Theory, MemberData(nameof(Shortly))]
    public Task Site_files(int seconds) => Run("site files", seconds, [Encoding.UTF8.GetBytes(Site)], input =>
    {
        var read = SiteFile.Read(Encoding.UTF8.GetString(input));
        Assert.Equal(read.Site is null, read.Mistakes.Count > 0);
    });

    [Theory(Explicit = true), MemberData(nameof(AtLength))]
    public Task Site_files_at_length(int seconds) => Site_files(seconds);

    [Theory, MemberData(nameof(Shortly))]
    public async Task Recordings(int seconds)
    {
        var plain = Payloads.Select((payload, at) => RecordingLine.Encode(new(Given.Noon.AddSeconds(at), new WireMessage("t", Encoding.UTF8.GetBytes(payload)))))
            .SelectMany(line => line.Append((byte)'\n')).ToArray();
        using var packed = new MemoryStream();
        using (var zip = new GZipStream(packed, CompressionLevel.Optimal, leaveOpen: true))
            zip.Write(plain);
        foreach (var (name, good) in new[] { ("r.jsonl", plain), ("r.jsonl.gz", packed.ToArray()) })
            await Run($"recordings {name}", seconds, [good], input =>
            {
                File.WriteAllBytes(folder[name], input);
                Assert.All(RecordingFile.Read(folder[name]), entry => Assert.Equal(entry.Message is null, entry.Problem.Length > 0));
            });
    }

    [Theory(Explicit = true), MemberData(nameof(AtLength))]
    public Task Recordings_at_length(int seconds) => Recordings(seconds);

    [Theory, MemberData(nameof(Shortly))]
    public Task Segments(int seconds)
    {
        var (bytes, end) = (new ArrayBufferWriter<byte>(), default(LogPosition));
        foreach (var message in Given.Messages(0, 12))
            end = LogRecord.Encode(message, end, bytes);
        var written = Given.Written(Given.Messages(0, 12)).ToHashSet();
        return Run("segments", seconds, [bytes.WrittenSpan.ToArray()], input =>
        {
            var segment = Segment.At(folder.Path, default);
            File.WriteAllBytes(segment.Path, input);
            // A CRC over place, length and body: whatever is given out is what was written there.
            Assert.All(SegmentReader.Read(segment with { End = segment.Start + input.Length }, segment.Start), read => Assert.Contains(Given.Written(read.Message), written));
            // Flushing to disk takes long.
            if (input.Length % 30 == 0)
                GoesOn();
        });
    }

    /// <summary>A log whose last file was damaged is opened, and keeps what comes.</summary>
    void GoesOn()
    {
        using var log = IntakeLog.Open(folder.Path);
        var before = log.End;
        Assert.True(log.Append([Given.Message(99)]).IsDurable);
        Assert.Equal([Given.Written(Given.Message(99))], log.All(before));
        foreach (var file in Directory.GetFiles(folder.Path, "*.intake"))
            File.Delete(file);
    }

    [Theory(Explicit = true), MemberData(nameof(AtLength))]
    public Task Segments_at_length(int seconds) => Segments(seconds);

    /// <summary>Names and values of any letters; each point must come back as one line by the rules that InfluxData publishes.</summary>
    [Theory, MemberData(nameof(Shortly))]
    public Task Line_protocol(int seconds) => Run("line protocol", seconds, ["boat \"Nordlicht\", slip=G-1\\\r\n°"u8.ToArray()], input =>
    {
        var text = Encoding.UTF8.GetString(input);
        var name = text.Length == 0 ? "empty" : text;
        var line = new Point(name, [(name, name)], [(name, FieldText.Of(text)), ("n", FieldText.Of(input.Length))], Given.Noon).Line();
        Assert.DoesNotContain('\n', line);
        Assert.DoesNotContain('\r', line);
        Assert.Equal(text.Replace('\n', ' ').Replace('\r', ' '), ParsedLine.Of(line).Fields[0].Item2);
    });

    [Theory(Explicit = true), MemberData(nameof(AtLength))]
    public Task Line_protocol_at_length(int seconds) => Line_protocol(seconds);

    async Task Run(string what, int seconds, byte[][] good, Action<byte[]> take) =>
        output.WriteLine($"{what}: {await FuzzFor.Run(FuzzFor.Mutated(good), seconds, take):N0} inputs in {seconds} s");
}
