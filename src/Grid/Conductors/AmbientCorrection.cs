namespace Farberth.Grid.Conductors;

// A conductor at its rated temperature Tc (°C) sheds I²·R(Tc) = (Tc − Ta)/Θ to an ambient Ta, with R its resistance and
// Θ its thermal resistance, both per metre. With R and Θ held, the current that just reaches Tc is proportional to
// √(Tc − Ta), so
//
//     I(Ta) / I(30 °C) = √( (Tc − Ta) / (Tc − 30) ).
//
// The bands of NEC table 310.15(B)(1)(1) are this at their upper edges, to two digits. It is valid for 30 °C tables only
// (there is another for 40 °C). The printed table stops at 10 °C on the cold side; below, this goes on rising where
// the table stays level.

/// <summary>What an ambient other than 30 °C makes of a table ampacity.</summary>
public static class AmbientCorrection
{
    /// <summary>Factor on the 30 °C ampacity; 0 at and above the rating.</summary>
    public static double Factor(TemperatureRating rating, double ambientCelsius)
    {
        var Tc = (double)rating;
        return ambientCelsius >= Tc ? 0 : Math.Sqrt((Tc - ambientCelsius) / (Tc - 30));
    }
}
