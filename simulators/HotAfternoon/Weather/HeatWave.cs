namespace Farberth.HotAfternoon;

/// <summary>What the air over the dock does at one moment.</summary>
/// <param name="Sun">Share of the day's strongest sun, 0 to 1.</param>
/// <param name="Humidity">Relative, 0 to 1.</param>
public readonly record struct Sky(double Celsius, double Sun, double Humidity);

/// <summary>One day's weather, repeated: air temperature, sun and humidity by the local hour. A season's days differ.</summary>
/// <remarks>
/// Temperature, two half cosines through the low t_l (half an hour before sunrise) and the high t_h:
///   T = T_low + (T_high − T_low)·(1 − cos πf)/2, f = (t − t_l)/(t_h − t_l) on the way up,
///   f = 1 − (t − t_h)/(24 h − t_h + t_l) on the way down.
/// Sun: s = (1 − clouds)·sin π(t − t_rise)/(t_set − t_rise), 0 at night.
/// Humidity from a dew point that holds all day (Magnus, coefficients 17.62 and 243.12 °C from memory):
///   RH = e(T_dew)/e(T), e(T) = exp(17.62·T/(243.12 + T)).
/// Of a season, T has the day's own K added, in full at t_h and in between in proportion of the time; the clouds are the day's.
/// The shapes are common practice for a clear summer day; no station's record is copied.
/// </remarks>
public sealed class HeatWave(WeatherPlan plan)
{
    readonly double rise = plan.Sunrise.ToTimeSpan().TotalHours;
    readonly double set = plan.Sunset.ToTimeSpan().TotalHours;
    readonly double hottest = plan.HottestAt.ToTimeSpan().TotalHours;

    /// <param name="local">Local time at the marina.</param>
    public Sky At(DateTime local)
    {
        var hour = local.TimeOfDay.TotalHours;
        var celsius = Celsius(hour) + OfDays(local, day => day.Kelvin);
        var clouds = plan.Days.Count == 0 ? plan.Clouds : plan.Days[Day(local.Date)].Clouds;
        return new Sky(celsius, Sun(hour, clouds), Math.Min(1, Vapour(plan.DewPointCelsius) / Vapour(celsius)));
    }

    /// <summary>How far a forecast is off that is made one moment for another: √(lead/12 h) times that day's error.</summary>
    public double ForecastErrorKelvin(DateTime made, DateTime of, double sameForAll) => plan.Days.Count == 0
        ? sameForAll
        : plan.ForecastErrorKelvin * Math.Sqrt(Math.Max(0, (of - made).TotalHours / 12)) * OfDays(of, day => day.ForecastError);

    /// <summary>A figure of each day, in proportion between their hottest hours; 0 where all days are alike.</summary>
    double OfDays(DateTime local, Func<DayWeather, double> figure)
    {
        if (plan.Days.Count == 0)
            return 0;
        var since = (local - plan.FirstDay).TotalDays - hottest / 24;
        var before = Math.Floor(since);
        double At(double day) => figure(plan.Days[Math.Clamp((int)day, 0, plan.Days.Count - 1)]);
        return At(before) + (since - before) * (At(before + 1) - At(before));
    }

    int Day(DateTime date) => Math.Clamp((date - plan.FirstDay).Days, 0, plan.Days.Count - 1);

    double Celsius(double hour)
    {
        var coldest = rise - 0.5;
        var sinceColdest = (hour - coldest + 24) % 24;
        var climb = hottest - coldest;
        var f = sinceColdest <= climb ? sinceColdest / climb : 1 - (sinceColdest - climb) / (24 - climb);
        return plan.LowCelsius + (plan.HighCelsius - plan.LowCelsius) * (1 - Math.Cos(Math.PI * f)) / 2;
    }

    double Sun(double hour, double clouds) => hour <= rise || hour >= set
        ? 0
        : (1 - clouds) * Math.Sin(Math.PI * (hour - rise) / (set - rise));

    static double Vapour(double celsius) => Math.Exp(17.62 * celsius / (243.12 + celsius));
}
