using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Adapters.Tests.Stores.Intake;

public class IntakeLogTests
{
    static readonly IntakeLogOptions Small = new(SegmentBytes: 2_000, MostBytes: 8_000);

    [Fact]
    public void What_was_appended_is_read_back_whole_and_in_order_and_again_after_reopening()
    {
        using var folder = new TemporaryFolder();
        RecordedMessage[] odd =
        [
            new(Given.Noon, new WireMessage("empty", default, Retain: true)),
            new(Given.Noon.AddTicks(1), new WireMessage("größer/ñ/日本", new byte[] { 0, 255 })),
            new(DateTimeOffset.UnixEpoch, new WireMessage("largest", new byte[InboundDecoder.LargestPayload + 1])),
        ];
        using (var log = IntakeLog.Open(folder.Path))
        {
            Assert.True(log.Append(odd).IsDurable);
            Assert.Equal(Given.Written(odd), log.All());
        }
        using var again = IntakeLog.Open(folder.Path);
        Assert.Equal(Given.Written(odd), again.All());
    }

    [Fact]
    public void A_reader_goes_on_from_any_message_it_has_kept_as_its_cursor()
    {
        using var folder = new TemporaryFolder();
        using var log = IntakeLog.Open(folder.Path, Small);
        for (var i = 0; i < 20; i++)
            log.Append(Given.Messages(i * 5, 5));
        Assert.True(Directory.GetFiles(folder.Path).Length > 3);
        var all = log.Read(log.Start).ToList();
        for (var i = 0; i < all.Count; i++)
            Assert.Equal(Given.Written(all.Skip(i + 1).Select(read => read.Message)), log.All(all[i].Next));
        Assert.Equal(log.End, all[^1].Next);
    }

    [Fact]
    public void Trimming_deletes_whole_files_that_everybody_has_passed_and_no_message_after()
    {
        using var folder = new TemporaryFolder();
        using var log = IntakeLog.Open(folder.Path, Small);
        for (var i = 0; i < 10; i++)
            log.Append(Given.Messages(i * 5, 5));
        var (cursor, _) = log.Read(log.Start).ElementAt(29);
        var before = log.Bytes;
        log.Trim(cursor);
        Assert.True(log.Bytes < before);
        Assert.True(log.Start <= cursor);
        Assert.Equal(Given.Written(Given.Messages(30, 5).Concat(Given.Messages(35, 15))), log.All(cursor));
        Assert.Equal(0, log.Lost);
    }

    [Fact]
    public void At_the_bound_the_oldest_go_and_are_counted_and_never_before()
    {
        using var folder = new TemporaryFolder();
        using var log = IntakeLog.Open(folder.Path, Small);
        var appended = 0;
        while (log.Lost == 0)
        {
            Assert.Equal(appended, log.All().Count);
            log.Append(Given.Messages(appended, 5));
            appended += 5;
        }
        Assert.InRange(log.Bytes, Small.MostBytes - Small.SegmentBytes - 1_000, Small.MostBytes);
        Assert.Equal(appended, log.Lost + log.All().Count);
        Assert.Equal(Given.Written(Given.Messages((int)log.Lost, appended - (int)log.Lost)), log.All());
    }

    [Fact]
    public void What_was_read_and_trimmed_is_not_counted_as_lost_at_the_bound()
    {
        using var folder = new TemporaryFolder();
        using var log = IntakeLog.Open(folder.Path, Small);
        for (var i = 0; i < 200; i++)
        {
            log.Append(Given.Messages(i * 5, 5));
            log.Trim(log.End);
        }
        Assert.Equal(0, log.Lost);
        Assert.InRange(log.Bytes, 1, Small.MostBytes);
    }

    [Fact]
    public void A_log_that_was_taken_away_goes_on_after_the_furthest_cursor()
    {
        using var folder = new TemporaryFolder();
        var cursor = new LogPosition(123_456);
        using (var log = IntakeLog.Open(folder.Path, notBefore: cursor))
        {
            Assert.Equal(cursor, log.Start);
            log.Append(Given.Messages(0, 3));
            Assert.Equal(3, log.All(cursor).Count);
        }
        using var again = IntakeLog.Open(folder.Path, notBefore: cursor);
        Assert.Equal(3, again.All().Count);
    }

    [Fact]
    public void A_second_process_is_kept_out()
    {
        using var folder = new TemporaryFolder();
        using var log = IntakeLog.Open(folder.Path);
        Assert.Throws<IOException>(() => IntakeLog.Open(folder.Path));
    }

    [Fact]
    public async Task Whoever_waits_for_more_is_told()
    {
        using var folder = new TemporaryFolder();
        using var log = IntakeLog.Open(folder.Path);
        var more = log.WhenBeyond(log.End, TestContext.Current.CancellationToken);
        Assert.False(more.IsCompleted);
        log.Append(Given.Messages(0, 1));
        await more.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
        Assert.True(log.WhenBeyond(LogPosition.Beginning, TestContext.Current.CancellationToken).IsCompleted);
    }
}
