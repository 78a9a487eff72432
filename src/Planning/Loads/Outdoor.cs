namespace Farberth.Planning.Loads;

/// <summary>The outdoor temperature that a plan counts on.</summary>
/// <param name="Usual">On every day that is not in <paramref name="Days"/>.</param>
public sealed record Outdoor(DayCelsius Usual, IReadOnlyDictionary<DateOnly, DayCelsius> Days)
{
    /// <summary>Assumed where nothing is stated: a hot day, since a plan must hold on it.</summary>
    public static Outdoor HotDays { get; } = new(new(35, 24), new Dictionary<DateOnly, DayCelsius>());

    public static Outdoor Of(double highCelsius, double lowCelsius) => HotDays with { Usual = new(highCelsius, lowCelsius) };

    public double HighestCelsius => Days.Values.Append(Usual).Max(day => day.High);

    /// <summary>A day as a cosine, highest at 15:00 and lowest at 03:00 local time (assumed).</summary>
    public double At(DateTime local)
    {
        var day = Days.GetValueOrDefault(DateOnly.FromDateTime(local), Usual);
        return (day.High + day.Low) / 2 + (day.High - day.Low) / 2 * Math.Cos(2 * Math.PI * (local.TimeOfDay.TotalHours - 15) / 24);
    }
}

/// <summary>Highest and lowest of a day, °C.</summary>
public sealed record DayCelsius(double High, double Low);
