namespace Farberth.Grid.Conductors;

// Steady heat balance of one loaded conductor, the one behind NEC 310.16 and IEC 60287. Per metre,
// heat made = heat shed:
//
//     I²·R = (T − Ta)/Θ        R ohm/m, Θ K·m/W, temperatures °C.
//
// At the table's own point I = Iz30 (the 30 °C ampacity of column Tc), Ta = 30 and T = Tc: Iz30²·R = (Tc − 30)/Θ.
// Divide the first by it:
//
//     T = Ta + (Tc − 30)·(I/Iz30)².
//
// R is taken at Tc. Below Tc the true R is smaller, so T comes out high (by less than 2 K in the 75 °C column at 30 °C
// ambient): the safe side. Above Tc it comes out low. It is the temperature after some hours of steady current, not
// before; and Iz30 must be that of the conductor as it lies, with any bundling already taken off.

/// <summary>The temperature at which a loaded conductor settles.</summary>
public static class ConductorTemperature
{
    /// <param name="amps">RMS current of one conductor.</param>
    /// <param name="ampacityAt30Amps">Its ampacity at 30 °C in the column of <paramref name="rating"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The ampacity is not above 0.</exception>
    public static double Celsius(double ambientCelsius, double amps, double ampacityAt30Amps, TemperatureRating rating)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ampacityAt30Amps);
        var load = amps / ampacityAt30Amps;
        return ambientCelsius + ((double)rating - 30) * load * load;
    }
}
