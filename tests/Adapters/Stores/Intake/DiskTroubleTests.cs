using Farberth.Adapters.Stores.Intake;
using Farberth.Monitoring.Telemetry;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Stores.Intake;

/// <summary>A disk that takes nothing for a while.</summary>
public class DiskTroubleTests
{
    [Fact]
    public void A_folder_that_is_gone_is_said_and_once_it_is_back_everything_goes_in()
    {
        using var folder = new TemporaryFolder();
        using var log = IntakeLog.Open(folder["log"], new(SegmentBytes: 100, MostBytes: 100_000));
        Assert.True(log.Append(Given.Messages(0, 5)).IsDurable);
        Directory.Move(folder["log"], folder["away"]);
        var failed = log.Append(Given.Messages(5, 5));
        Assert.False(failed.IsDurable);
        Assert.NotEqual("", failed.Problem);
        Assert.Equal(log.End, failed.End);
        Directory.Move(folder["away"], folder["log"]);
        Assert.True(log.Append(Given.Messages(5, 5)).IsDurable);
        Assert.Equal(Given.Written(Given.Messages(0, 10)), log.All());
    }

    /// <summary>On a real file system.</summary>
    [Fact]
    public async Task A_disk_that_is_full_is_said_and_once_there_is_room_everything_goes_in()
    {
        await using var disk = await SmallDisk.Mount(kibibytes: 512, TestContext.Current.CancellationToken);
        using var log = IntakeLog.Open(Path.Combine(disk.Folder, "log"), new(SegmentBytes: 20_000, MostBytes: 10_000_000));
        for (var number = 0; number < 10; number++)
            Assert.True(log.Append(Batch(number)).IsDurable);
        disk.Fill();
        // The last page of a file may still have room.
        var at = 10;
        while (log.Append(Batch(at)).IsDurable)
            at++;
        Assert.Contains("space", log.Append(Batch(at)).Problem, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(Given.Written(Enumerable.Range(0, at).SelectMany(Batch)), log.All());
        disk.Free();
        Assert.True(log.Append(Batch(at++)).IsDurable);
        Assert.Equal(Given.Written(Enumerable.Range(0, at).SelectMany(Batch)), log.All());
    }

    static List<RecordedMessage> Batch(int number) =>
        [.. Enumerable.Range(number * 4, 4).Select(one => Given.Message(one, 1_500))];
}
