using Farberth.Adapters.Stores.Intake;

namespace Farberth.Adapters.Tests.Stores.Intake;

/// <summary>Power cuts and damage, at every place where they can strike.</summary>
public class TornWriteTests
{
    /// <summary>One file with a batch that was told to be durable and then another; gives back where the second begins in the file.</summary>
    static (byte[] File, int SecondBatch) TwoBatches(string folder)
    {
        int second;
        using (var log = IntakeLog.Open(folder))
        {
            second = (int)log.Append(Given.Messages(0, 4)).End.Offset;
            log.Append(Given.Messages(4, 3));
        }
        return (File.ReadAllBytes(Only(folder)), second);
    }

    static string Only(string folder) => Assert.Single(Directory.GetFiles(folder, "*.intake"));

    static void AssertHoldsAndTakesMore(string path, IReadOnlyList<string> least, IReadOnlyList<string> most, bool inOrderFromTheFirst = true)
    {
        using (var log = IntakeLog.Open(path))
        {
            var found = log.All();
            Assert.Empty(found.Except(most));
            Assert.Empty(least.Except(found));
            if (inOrderFromTheFirst)
                Assert.Equal(most.Take(found.Count), found);
            Assert.True(log.Append(Given.Messages(100, 2)).IsDurable);
            Assert.Equal([.. found, .. Given.Written(Given.Messages(100, 2))], log.All());
        }
        using var again = IntakeLog.Open(path);
        Assert.Equal(Given.Written(Given.Messages(100, 2)), again.All().TakeLast(2));
    }

    [Fact]
    public void A_file_cut_anywhere_in_a_write_opens_with_what_was_durable_before()
    {
        using var made = new TemporaryFolder();
        var (file, second) = TwoBatches(made.Path);
        var (durable, all) = (Given.Written(Given.Messages(0, 4)), Given.Written(Given.Messages(0, 7)));
        for (var cut = second; cut <= file.Length; cut++)
        {
            using var folder = new TemporaryFolder();
            File.WriteAllBytes(folder[Path.GetFileName(Only(made.Path))], file[..cut]);
            AssertHoldsAndTakesMore(folder.Path, cut == file.Length ? all : durable, all);
        }
    }

    [Fact]
    public void A_write_of_which_some_blocks_never_reached_the_disk_leaves_what_was_durable_before()
    {
        using var made = new TemporaryFolder();
        var (file, second) = TwoBatches(made.Path);
        var (durable, all) = (Given.Written(Given.Messages(0, 4)), Given.Written(Given.Messages(0, 7)));
        for (var zeroed = second; zeroed < file.Length; zeroed++)
        {
            using var folder = new TemporaryFolder();
            var holed = file.ToArray();
            holed.AsSpan(zeroed, Math.Min(16, file.Length - zeroed)).Clear();
            File.WriteAllBytes(folder[Path.GetFileName(Only(made.Path))], holed);
            AssertHoldsAndTakesMore(folder.Path, durable, all, inOrderFromTheFirst: false);
        }
    }

    [Fact]
    public void A_flipped_byte_costs_the_message_it_is_in_and_is_noticed_and_the_rest_is_read()
    {
        using var made = new TemporaryFolder();
        var (file, _) = TwoBatches(made.Path);
        var all = Given.Written(Given.Messages(0, 7));
        for (var at = 0; at < file.Length; at++)
        {
            using var folder = new TemporaryFolder();
            var flipped = file.ToArray();
            flipped[at] ^= (byte)(1 << at % 8);
            File.WriteAllBytes(folder[Path.GetFileName(Only(made.Path))], flipped);
            using var log = IntakeLog.Open(folder.Path);
            log.Append(Given.Messages(7, 1));
            var found = log.All();
            Assert.Equal(7, found.Count);
            Assert.Empty(found.Except(Given.Written(Given.Messages(0, 8))));
            // The last one of a file that was still written cannot be told from a torn write: it is cut off.
            Assert.True(log.SkippedBytes > 0 || !found.Contains(all[^1]));
        }
    }

    [Fact]
    public void A_record_inside_a_payload_is_not_taken_for_one_when_its_envelope_is_damaged()
    {
        using var made = new TemporaryFolder();
        var (smuggled, _) = TwoBatches(made.Path);
        using var folder = new TemporaryFolder();
        using (var log = IntakeLog.Open(folder.Path))
            log.Append([Given.Message(1) with { Message = new("t", smuggled) }, Given.Message(2)]);
        var file = File.ReadAllBytes(Only(folder.Path));
        file[13] ^= 1;
        File.WriteAllBytes(Only(folder.Path), file);
        using var opened = IntakeLog.Open(folder.Path);
        Assert.Equal([Given.Written(Given.Message(2))], opened.All());
    }

    [Fact]
    public void Damage_longer_than_what_is_read_at_a_time_is_stepped_over()
    {
        using var folder = new TemporaryFolder();
        using (var log = IntakeLog.Open(folder.Path))
            log.Append([.. Enumerable.Range(0, 60).Select(number => Given.Message(number, 60_000))]);
        var path = Only(folder.Path);
        var file = File.ReadAllBytes(path);
        file.AsSpan(100, 2_500_000).Clear();
        File.WriteAllBytes(path, file);
        using var opened = IntakeLog.Open(folder.Path);
        var found = opened.All();
        Assert.Equal(Given.Written(Enumerable.Range(60 - found.Count, found.Count).Select(number => Given.Message(number, 60_000))), found);
        Assert.Equal(60 - (2_500_100 / 60_060 + 1), found.Count);
        Assert.InRange(opened.SkippedBytes, 2_500_000, 2_600_000);
    }
}
