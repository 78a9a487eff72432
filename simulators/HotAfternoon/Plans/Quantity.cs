using System.Globalization;

namespace Farberth.HotAfternoon;

/// <summary>What a number in a scenario file measures; its value is kept in this unit.</summary>
public enum Quantity
{
    Seconds,
    Celsius,
    Kelvin,
    Watts,
    WattsPerKelvin,
    JoulesPerKelvin,
    Joules,
    Ohms,
    Volts,
    Amps,
    Litres,
    Share,
}

/// <summary>Numbers with their unit, as people write them: "1500 W", "16000 Btu/h", "0.5 %".</summary>
public static class QuantityText
{
    sealed record Unit(string Text, Quantity Quantity, double Scale, double Offset = 0);

    static readonly Unit[] Units =
    [
        new("ms", Quantity.Seconds, 0.001), new("s", Quantity.Seconds, 1),
        new("min", Quantity.Seconds, 60), new("h", Quantity.Seconds, 3600),
        new("°C", Quantity.Celsius, 1), new("°F", Quantity.Celsius, 5.0 / 9, -160.0 / 9),
        new("K", Quantity.Kelvin, 1),
        new("W", Quantity.Watts, 1), new("kW", Quantity.Watts, 1000),
        new("Btu/h", Quantity.Watts, 0.29307107), // 1055.05585 J / 3600 s, International Table Btu
        new("W/K", Quantity.WattsPerKelvin, 1),
        new("J/K", Quantity.JoulesPerKelvin, 1), new("kJ/K", Quantity.JoulesPerKelvin, 1000),
        new("Wh", Quantity.Joules, 3600), new("kWh", Quantity.Joules, 3.6e6),
        new("ohm", Quantity.Ohms, 1), new("mohm", Quantity.Ohms, 0.001),
        new("V", Quantity.Volts, 1), new("mV", Quantity.Volts, 0.001),
        new("A", Quantity.Amps, 1), new("mA", Quantity.Amps, 0.001),
        new("l", Quantity.Litres, 1), new("gal", Quantity.Litres, 3.785411784), // US gallon, by definition
        new("%", Quantity.Share, 0.01),
    ];

    /// <summary>False if the text is not a finite number and a unit of the quantity.</summary>
    public static bool TryRead(string text, Quantity quantity, out double value)
    {
        var digits = text.TakeWhile(c => char.IsAsciiDigit(c) || c is '.' or '-' or '+').Count();
        var unit = Array.Find(Units, u => u.Quantity == quantity && u.Text == text[digits..].Trim());
        var isNumber = double.TryParse(text[..digits], NumberStyles.Float, CultureInfo.InvariantCulture, out value);
        if (unit is null || !isNumber || !double.IsFinite(value))
            return false;
        value = value * unit.Scale + unit.Offset;
        return true;
    }

    /// <summary>The units that a quantity may carry, for a message.</summary>
    public static string UnitsOf(Quantity quantity) =>
        string.Join(", ", Units.Where(u => u.Quantity == quantity).Select(u => u.Text));
}
