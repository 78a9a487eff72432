using Farberth.Adapters.Stores.Intake;

namespace Farberth.Adapters.Tests.Stores.Intake;

public class CheckpointFileTests
{
    [Fact]
    public void The_newest_comes_back_and_none_where_there_is_none()
    {
        using var folder = new TemporaryFolder();
        var file = new CheckpointFile(folder["checkpoint"]);
        Assert.Null(file.Read());
        file.Write(new(new LogPosition(7), "earlier"u8.ToArray()));
        file.Write(new(new LogPosition(1L << 40), "later"u8.ToArray()));
        var read = file.Read()!;
        Assert.Equal((1L << 40, "later"), (read.Position.Offset, System.Text.Encoding.UTF8.GetString(read.Memory.Span)));
        Assert.Equal(["checkpoint"], Directory.GetFiles(folder.Path).Select(Path.GetFileName));
    }

    [Fact]
    public void Whatever_byte_is_another_or_missing_it_is_refused()
    {
        using var folder = new TemporaryFolder();
        var file = new CheckpointFile(folder["checkpoint"]);
        file.Write(new(new LogPosition(4711), "what is remembered"u8.ToArray()));
        var good = File.ReadAllBytes(folder["checkpoint"]);
        for (var at = 0; at < good.Length; at++)
        {
            var bad = (byte[])good.Clone();
            bad[at] ^= 1;
            File.WriteAllBytes(folder["checkpoint"], bad);
            Assert.Throws<InvalidDataException>(() => file.Read());
            File.WriteAllBytes(folder["checkpoint"], good[..at]);
            Assert.Throws<InvalidDataException>(() => file.Read());
        }
    }

    [Fact]
    public void What_a_restart_needs_is_kept_and_is_not_unread()
    {
        using var folder = new TemporaryFolder();
        using var log = IntakeLog.Open(folder["log"]);
        var cursors = new LogCursors(log);
        cursors.Add("history", log.Start);
        cursors.Add("checkpoint", log.Start, isCarrier: false);
        var end = log.Append(Given.Messages(0, 5)).End;
        Assert.Equal(end.Offset, cursors.Unread);
        cursors.Move("history", end);
        Assert.Equal(0, cursors.Unread);
        Assert.Equal(5, log.Read(LogPosition.Beginning).Count());
    }
}
