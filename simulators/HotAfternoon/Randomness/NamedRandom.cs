using System.Text;

namespace Farberth.HotAfternoon;

/// <summary>
/// Random numbers that depend only on the scenario's seed and on a name, so that one more boat changes no other boat.
/// Not for secrets.
/// </summary>
/// <remarks>
/// Start: h = FNV-1a(names), each name closed by byte 0x1F; state = mix(seed) xor h.
/// Step (SplitMix64; Steele, Lea, Flood, OOPSLA 2014): state += 0x9E3779B97F4A7C15, output = mix(state).
/// Normal (Box, Muller 1958): √(−2 ln u)·cos 2πw with u in (0, 1], w in [0, 1).
/// </remarks>
public sealed class NamedRandom
{
    const ulong Golden = 0x9E3779B97F4A7C15;
    ulong state;

    public NamedRandom(long seed, params ReadOnlySpan<string> names)
    {
        var hash = 0xCBF29CE484222325UL;
        foreach (var name in names)
        {
            foreach (var octet in Encoding.UTF8.GetBytes(name))
                hash = (hash ^ octet) * 0x100000001B3;
            hash = (hash ^ 0x1F) * 0x100000001B3;
        }
        state = Mix(unchecked((ulong)seed)) ^ hash;
    }

    /// <summary>Evenly spread in [0, 1).</summary>
    public double Unit()
    {
        state += Golden;
        return (Mix(state) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>Evenly spread in [low, high).</summary>
    public double Between(double low, double high) => low + (high - low) * Unit();

    /// <summary>True with the given probability.</summary>
    public bool Chance(double probability) => Unit() < probability;

    /// <summary>Mean 0, standard deviation 1.</summary>
    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Unit())) * Math.Cos(2 * Math.PI * Unit());

    /// <summary>Waiting time with the given mean.</summary>
    public double Exponential(double mean) => -mean * Math.Log(1 - Unit());

    static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
