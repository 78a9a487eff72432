using CsCheck;

namespace Farberth.Adapters.Tests.Fuzzing;

/// <summary>
/// How long inputs are tried: a few seconds in every run, ten minutes each when asked for by
/// <c>./Farberth.Adapters.Tests -class '*.FuzzTests' -explicit only -showliveoutput</c> (FUZZ_SECONDS asks for another time).
/// </summary>
static class FuzzFor
{
    public const int Short = 3;

    public static int Long => int.TryParse(Environment.GetEnvironmentVariable("FUZZ_SECONDS"), out var seconds) ? seconds : 600;

    /// <summary>More than any input here may make a reader hold: 64 times the largest input, and what other tests take meanwhile.</summary>
    const long MostAllocatedBytes = 64L * 1024 * 1024;

    static readonly TimeSpan Hang = TimeSpan.FromMinutes(1);

    /// <summary>Tries until the time is over. An exception, a hang, or memory out of all proportion to the input fails.</summary>
    /// <returns>How many inputs were tried.</returns>
    public static async Task<long> Run(Gen<byte[]> inputs, int seconds, Action<byte[]> take)
    {
        long tried = 0;
        byte[] present = [];
        var trying = Task.Run(() => inputs.Sample(
            input =>
            {
                Volatile.Write(ref present, input);
                var before = GC.GetAllocatedBytesForCurrentThread();
                take(input);
                var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
                Assert.True(allocated < MostAllocatedBytes, $"{allocated} bytes for an input of {input.Length}");
                Interlocked.Increment(ref tried);
            },
            time: seconds, threads: 1, print: Convert.ToHexString));
        try
        {
            // No timing is judged: this only tells a hang from a slow machine.
            await trying.WaitAsync(TimeSpan.FromSeconds(seconds) + Hang, TestContext.Current.CancellationToken);
        }
        catch (TimeoutException)
        {
            Assert.Fail($"no end for {Hang}: {Convert.ToHexString(Volatile.Read(ref present))}");
        }
        return tried;
    }

    /// <summary>One to six places of a good input changed, taken away, doubled or cut; or bytes that are nothing at all.</summary>
    public static Gen<byte[]> Mutated(params byte[][] good) => Gen.Frequency(
        (1, Gen.Byte.Array[0, 400]),
        (6, Gen.Select(Gen.Int[0, good.Length - 1], Gen.Select(Gen.Int[0, 5], Gen.Int[0, int.MaxValue - 1], Gen.Byte, Gen.Int[1, 40]).Array[1, 6],
            (which, changes) => changes.Aggregate(good[which], Changed))));

    static byte[] Changed(byte[] bytes, (int How, int Where, byte Value, int Length) change)
    {
        if (bytes.Length == 0)
            return [change.Value];
        var at = change.Where % bytes.Length;
        var end = Math.Min(bytes.Length, at + change.Length);
        return change.How switch
        {
            0 => [.. bytes[..at], change.Value, .. bytes[(at + 1)..]],
            1 => [.. bytes[..at], (byte)(bytes[at] ^ (1 << (change.Value & 7))), .. bytes[(at + 1)..]],
            2 => [.. bytes[..at], .. bytes[end..]],
            3 => [.. bytes[..end], .. bytes[at..end], .. bytes[end..]],
            4 => bytes[..at],
            _ => [.. bytes[..at], .. Enumerable.Repeat(change.Value, change.Length), .. bytes[at..]],
        };
    }
}
