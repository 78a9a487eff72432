using CsCheck;
using Farberth.Service.Journaling;
using static Farberth.Service.Tests.Telling.Happened;

namespace Farberth.Service.Tests.Journaling;

public class JournalQueueTests
{
    readonly JournalQueue queue = new(capacity: 5);

    static Kept Part(int name, int patienceSeconds = 5) =>
        new(new() { Entries = [new(Step(Noon.AddSeconds(name), $"a{name}"), [])] }, [], Noon.AddSeconds(name + patienceSeconds));

    [Fact]
    public void What_is_written_goes_out()
    {
        var (a, b) = (Put(0), Put(1));

        Assert.Equal([a], queue.Written([a]));
        Assert.Equal([b], queue.Peek(10));
        Assert.Equal((1, 0L, 0L), (queue.Count, queue.ToldFirst, queue.Lost));
    }

    [Fact]
    public void What_is_overdue_goes_out_unwritten_with_all_before_it_and_not_again_when_it_is_written()
    {
        var (a, b, hazard, c) = (Put(0, 60), Put(1, 60), Put(2, 1), Put(3, 60));

        Assert.Equal(Noon.AddSeconds(3), queue.Due);
        Assert.Empty(queue.Overdue(Noon.AddSeconds(2)));
        Assert.Equal([a, b, hazard], queue.Overdue(Noon.AddSeconds(3)));
        Assert.Equal(3, queue.ToldFirst);
        Assert.Equal([c], queue.Written([a, b, hazard, c]));
        Assert.Null(queue.Due);
    }

    [Fact]
    public void Beyond_its_capacity_the_oldest_goes_out_and_is_counted_as_lost()
    {
        var parts = Enumerable.Range(0, 5).Select(name => Put(name)).ToList();

        Assert.Equal([parts[0]], queue.Put(Part(5)));
        Assert.Equal((5, 1L), (queue.Count, queue.Lost));
        Assert.Equal(parts[1..], queue.Written(parts)); // the first was being written when it was dropped
    }

    /// <summary>Whatever the order of putting, writing and waiting: each goes out once, in the order in which it came.</summary>
    [Fact]
    public void Everything_goes_out_once_and_in_order() => Gen.Select(Gen.Int[0, 3], Gen.Int[0, 8]).Array[0, 60].Sample(steps =>
    {
        var one = new JournalQueue(capacity: 6);
        var (put, outside, now) = (new List<Kept>(), new List<Kept>(), Noon);
        foreach (var (kind, number) in steps)
        {
            now += TimeSpan.FromSeconds(1);
            if (kind is 0 or 1)
            {
                put.Add(Part(put.Count) with { NotAfter = now.AddSeconds(number) });
                outside.AddRange(one.Put(put[^1]));
            }
            else
                outside.AddRange(kind == 2 ? one.Overdue(now) : one.Written(one.Peek(number)));
        }
        outside.AddRange(one.Overdue(DateTimeOffset.MaxValue));
        return put.SequenceEqual(outside);
    });

    Kept Put(int name, int patienceSeconds = 5)
    {
        var part = Part(name, patienceSeconds);
        Assert.Empty(queue.Put(part));
        return part;
    }
}
