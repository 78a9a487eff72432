using CsCheck;
using Farberth.Adapters.Stores.Intake;

namespace Farberth.Adapters.Tests.Stores.Intake;

/// <summary>The log against a plain list, through any series of appending, trimming and reopening.</summary>
public class IntakeLogModel
{
    enum Act
    {
        Append,
        Trim,
        Reopen,
        Read,
    }

    sealed class Run : IDisposable
    {
        readonly TemporaryFolder folder = new();
        readonly List<(LogPosition Next, string Message)> model = [];
        IntakeLog log;
        int made;

        public Run() => log = Open();

        IntakeLog Open() => IntakeLog.Open(folder.Path, new(SegmentBytes: 500, MostBytes: 1_000_000));

        public void Do(Act act, int amount)
        {
            if (act == Act.Append)
                Append(amount);
            else if (act == Act.Reopen)
                Reopen();
            else if (model.Count > 0)
                At(model[amount % model.Count].Next, act == Act.Trim);
            // What a reader that has passed nothing sees: at most one file's worth of what was trimmed is still there.
            Assert.Equal(Expected(log.Start), log.All());
        }

        void At(LogPosition cursor, bool trims)
        {
            if (trims)
                log.Trim(cursor);
            Assert.Equal(Expected(cursor), log.All(cursor));
        }

        List<string> Expected(LogPosition from) =>
            [.. model.Where(entry => entry.Next > LogPosition.Later(from, log.Start)).Select(entry => entry.Message)];

        void Append(int count)
        {
            var batch = Given.Messages(made, count);
            made += count;
            var before = log.End;
            Assert.True(log.Append(batch).IsDurable);
            model.AddRange(log.Read(before).Select(read => read.Next).Zip(Given.Written(batch)));
        }

        void Reopen()
        {
            var (start, end) = (log.Start, log.End);
            log.Dispose();
            log = Open();
            Assert.Equal((start, end), (log.Start, log.End));
        }

        public void Dispose()
        {
            log.Dispose();
            folder.Dispose();
        }
    }

    [Fact]
    public void It_holds_what_a_list_would_hold() =>
        Gen.Select(Gen.Enum<Act>(), Gen.Int[0, 12]).List[1, 30].Sample(
            acts =>
            {
                using var run = new Run();
                foreach (var (act, amount) in acts)
                    run.Do(act, amount);
            },
            iter: 300);
}
