using Farberth.Adapters.Stores.Intake;
using Farberth.Tests.Fixtures;

namespace Farberth.Adapters.Tests.Stores.Intake;

/// <summary>A disk that takes nothing for a while.</summary>
public class DiskTroubleTests
{
    static CancellationToken Cancel => TestContext.Current.CancellationToken;

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

    /// <summary>A real small file system, where the tests may mount one.</summary>
    [Fact]
    public async Task A_disk_that_is_full_is_said_and_once_there_is_room_everything_goes_in()
    {
        using var folder = new TemporaryFolder();
        await Mount("mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", folder.Path);
        try
        {
            var at = 0;
            using var log = IntakeLog.Open(folder["log"], new(SegmentBytes: 20_000, MostBytes: 10_000_000));
            while (log.Append(Batch(at)).IsDurable)
                at++;
            Assert.InRange(at, 5, 60);
            Assert.Contains("space", log.Append(Batch(at)).Problem, StringComparison.OrdinalIgnoreCase);

            await Command.Run("mount", ["-o", "remount,size=4m", folder.Path], Cancel);
            Assert.True(log.Append(Batch(at++)).IsDurable);
            Assert.Equal(Given.Written(Enumerable.Range(0, at).SelectMany(Batch)), log.All());
        }
        finally
        {
            await Command.Run("umount", ["-l", folder.Path], Cancel);
        }
    }

    static List<Farberth.Monitoring.Telemetry.RecordedMessage> Batch(int number) =>
        [.. Enumerable.Range(number * 4, 4).Select(one => Given.Message(one, 1_500))];

    static async Task Mount(string program, params string[] arguments)
    {
        try
        {
            await Command.Run(program, arguments, Cancel);
        }
        catch (Exception e) when (e is InvalidOperationException or System.ComponentModel.Win32Exception)
        {
            Assert.Skip($"no file system can be mounted here: {e.Message}");
        }
    }
}
