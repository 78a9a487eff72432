namespace Farberth.HotAfternoon;

/// <summary>When people wash and cook: a weight by the local hour (common practice, invented figures).</summary>
public static class HumanHours
{
    public static double Weight(double hour) => hour switch
    {
        >= 6.5 and < 9 => 1.5,
        >= 11.5 and < 13.5 => 1.2,
        >= 16 and < 20 => 1.8,
        >= 20 and < 23 => 0.8,
        >= 9 and < 16 => 0.5,
        _ => 0.05,
    };
}
