namespace Farberth.HotAfternoon;

/// <summary>One measured quantity of one meter.</summary>
/// <remarks>
/// reading = round(g·(x + σ·n), resolution), never below 0; g = 1 + gain error, drawn once; n normal, drawn each time.
/// Below the starting current a meter shows nothing (common practice; 20 mA here, <paramref name="startsAt"/>).
/// </remarks>
/// <param name="gain">Constant factor, about 1.</param>
/// <param name="noise">σ, in the quantity's unit.</param>
public sealed class MeterChannel(double gain, double noise, double startsAt, NamedRandom random)
{
    public double Gain => gain;

    public double Read(double truth)
    {
        var n = random.Normal();
        return truth < startsAt ? 0 : Math.Max(0, gain * (truth + noise * n));
    }
}
