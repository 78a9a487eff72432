namespace Farberth.Grid.Protection;

/// <summary>Where a contact's temperature goes from now if the amps stay what they were in the last minutes.</summary>
/// <param name="AirCelsius">T_air, with the sun.</param>
/// <param name="AirDriftPerMinute">d_a, K a minute.</param>
/// <remarks>
/// With e_i = e^(−t/τ_i), ū the recent mean of u and d_u its drift:
///   g(t) = r·[Δ_f·e_f + φ·ū·(1 − e_f) + Δ_s·e_s + (1 − φ)·ū·(1 − e_s) + d_u·(t − τ_s·(1 − e_s))]
///   T(t) = T_air + d_a·t + b + F·g(t)
/// The afternoon goes on: the air warms, and a sagging dock and the heat make motors take more amps. A boat that comes back is a jump
/// and no drift; the air's is held to 3 K an hour (assumed: more than a hot forenoon makes). What else may come within the time adds
/// 3 K an hour to the standard deviation (assumed).
/// </remarks>
public readonly record struct ContactOutlook(
    ConnectorModel Model, ConnectorHeat Heat, ContactWear Wear, double AirCelsius, double AirDriftPerMinute)
{
    const double MostKelvinPerMinute = 3.0 / 60;

    /// <summary>Nothing further ahead is looked at.</summary>
    const int LongestMinutes = 240;

    /// <summary>Once the contacts follow the amps of the last minutes, at the air of now.</summary>
    public double SettlesAtCelsius => AirCelsius + Wear.RiseKelvin(Model.RatedRiseKelvin * Heat.Recent);

    public double Celsius(double minutes) => After(minutes).Celsius;

    /// <summary>The temperature some minutes ahead and one standard deviation of it.</summary>
    public (double Celsius, double Sd) After(double minutes)
    {
        var g = UnitRise(minutes);
        var surprise = MostKelvinPerMinute * minutes;
        return (
            AirCelsius + Math.Clamp(AirDriftPerMinute, -MostKelvinPerMinute, MostKelvinPerMinute) * minutes + Wear.RiseKelvin(g),
            Math.Sqrt(Wear.RiseVariance(g) + surprise * surprise));
    }

    /// <summary>Change of the temperature now, K an hour: over the next five minutes.</summary>
    public double TrendPerHour => 12 * (Celsius(5) - Celsius(0));

    /// <summary>Until a temperature is reached, in whole minutes; 0 where it is passed, null where it is not reached within hours.</summary>
    public int? MinutesUntil(double celsius)
    {
        for (var minutes = 0; minutes <= LongestMinutes; minutes++)
            if (Celsius(minutes) >= celsius)
                return minutes;
        return null;
    }

    double UnitRise(double minutes)
    {
        const double fast = ConnectorModel.FastShare, slow = 1 - ConnectorModel.FastShare;
        var (eF, eS) = (Math.Exp(-minutes / ConnectorModel.FastMinutes), Math.Exp(-minutes / ConnectorModel.SlowMinutes));
        return Model.RatedRiseKelvin * (
            Heat.Fast * eF + Heat.Slow * eS + Heat.Recent * (fast * (1 - eF) + slow * (1 - eS))
            + Heat.DriftPerMinute * (minutes - ConnectorModel.SlowMinutes * (1 - eS)));
    }
}
