using System.Text;
using CsCheck;
using Farberth.Adapters.Recordings;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Recordings;

public sealed class RecordingFileTests : IDisposable
{
    const string Line = """{"at":"2027-07-17T15:04:05.3Z","topic":"t","payload":{"celsius":1}}""";

    readonly string folder = Directory.CreateTempSubdirectory("recording-").FullName;

    string File(string name) => Path.Combine(folder, name);

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("r.jsonl")]
    [InlineData("r.jsonl.gz")]
    public void A_recording_comes_back_as_it_was_written(string name) =>
        Gen.Select(Gen.Long[0, DateTime.MaxValue.Ticks], Gen.Byte.Array[0, 2_000]).Array[0, 50].Sample(messages =>
        {
            var written = messages.Select((m, i) => new RecordedMessage(new DateTimeOffset(m.Item1, TimeSpan.Zero), new WireMessage($"t/{i}", m.Item2))).ToList();
            using (var writer = RecordingFile.Create(File(name)))
                written.ForEach(writer.Write);
            var read = RecordingFile.Read(File(name)).ToList();
            return read.Count == written.Count && read.Zip(written, (r, w) =>
                r.Message!.At == w.At && r.Message.Message.Topic == w.Message.Topic && r.Message.Message.Payload.Span.SequenceEqual(w.Message.Payload.Span)).All(same => same);
        }, iter: 200, threads: 1);

    [Fact]
    public void A_name_in_gz_is_compressed_and_another_is_plain()
    {
        foreach (var name in new[] { "a.jsonl", "a.jsonl.gz" })
            using (var writer = RecordingFile.Create(File(name)))
                writer.Write(new RecordedMessage(new DateTimeOffset(2027, 7, 17, 15, 4, 5, 300, TimeSpan.Zero), new WireMessage("t", "{ \"celsius\" : 1 }"u8.ToArray())));
        Assert.Equal(Line + "\n", System.IO.File.ReadAllText(File("a.jsonl")));
        // RFC 1952, section 2.3.1: a gzip member begins with 1f 8b.
        Assert.Equal([0x1f, 0x8b], System.IO.File.ReadAllBytes(File("a.jsonl.gz"))[..2]);
    }

    [Fact]
    public void Damaged_lines_are_named_by_number_and_the_rest_is_read()
    {
        System.IO.File.WriteAllText(File("r"), $"{Line}\r\n\nrubbish\n{Line}\n{new string('x', RecordingFile.LongestLine + 5)}\n{Line}");
        var entries = RecordingFile.Read(File("r")).ToList();
        Assert.Equal([1, 3, 4, 5, 6], entries.Select(entry => entry.Line));
        Assert.Equal([3, 5], entries.Where(entry => entry.Message is null).Select(entry => entry.Line));
        Assert.All(entries.Where(entry => entry.Message is null), entry => Assert.NotEqual("", entry.Problem));
    }

    [Fact]
    public void A_last_line_that_was_cut_is_reported()
    {
        System.IO.File.WriteAllText(File("r"), Line + "\n" + Line[..40]);
        var entries = RecordingFile.Read(File("r")).ToList();
        Assert.Equal(2, entries.Count);
        Assert.NotNull(entries[0].Message);
        Assert.Contains("not JSON", entries[1].Problem, StringComparison.Ordinal);
    }

    [Fact]
    public void A_compressed_recording_can_be_read_as_far_as_it_was_flushed()
    {
        using var writer = RecordingFile.Create(File("open.gz"));
        for (var i = 0; i < 100; i++)
            writer.Write(new RecordedMessage(default, new WireMessage("t", "{}"u8.ToArray())));
        writer.Flush();
        Assert.Equal(100, RecordingFile.Read(File("open.gz")).Count(entry => entry.Message is not null));
    }

    [Fact]
    public void A_compressed_recording_that_was_cut_gives_what_can_be_read_and_says_so()
    {
        var random = new Random(1);
        using (var writer = RecordingFile.Create(File("r.gz")))
            for (var i = 0; i < 200; i++)
            {
                var payload = new byte[500];
                random.NextBytes(payload);
                writer.Write(new RecordedMessage(default, new WireMessage("t", payload)));
            }
        var whole = System.IO.File.ReadAllBytes(File("r.gz"));
        System.IO.File.WriteAllBytes(File("r.gz"), whole[..(whole.Length / 2)]);
        var entries = RecordingFile.Read(File("r.gz")).ToList();
        Assert.InRange(entries.Count(entry => entry.Message is not null), 50, 150);
        Assert.NotEqual("", entries[^1].Problem);
    }

    [Fact]
    public void Long_lines_that_fit_are_read_whole()
    {
        var payload = Encoding.UTF8.GetBytes('"' + new string('x', 300_000) + '"');
        using (var writer = RecordingFile.Create(File("r")))
            for (var i = 0; i < 5; i++)
                writer.Write(new RecordedMessage(default, new WireMessage("t", payload)));
        var entries = RecordingFile.Read(File("r")).ToList();
        Assert.Equal(5, entries.Count);
        Assert.All(entries, entry => Assert.Equal(payload.Length, entry.Message!.Message.Payload.Length));
    }
}
