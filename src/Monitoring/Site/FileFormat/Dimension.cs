using UnitsNet;
using UnitsNet.Units;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>A kind of quantity, the unit words that a site file may use for it, and the unit used inside.</summary>
/// <param name="Name">With its article, as "a length".</param>
/// <param name="Inside">The unit of the number that is handed on.</param>
sealed record Dimension(string Name, Enum Inside, IReadOnlyList<(string Word, Enum Unit)> Units)
{
    public static readonly Dimension Length = new(
        "a length", LengthUnit.Meter, [("ft", LengthUnit.Foot), ("m", LengthUnit.Meter), ("in", LengthUnit.Inch)]);

    public static readonly Dimension Voltage = new("a voltage", ElectricPotentialUnit.Volt, [("V", ElectricPotentialUnit.Volt)]);

    public static readonly Dimension Current = new(
        "a current", ElectricCurrentUnit.Ampere, [("A", ElectricCurrentUnit.Ampere), ("kA", ElectricCurrentUnit.Kiloampere)]);

    public static readonly Dimension LeakageCurrent = new(
        "a leakage current", ElectricCurrentUnit.Milliampere, [("mA", ElectricCurrentUnit.Milliampere)]);

    public static readonly Dimension ApparentPower = new(
        "an apparent power",
        ApparentPowerUnit.Voltampere,
        [("kVA", ApparentPowerUnit.Kilovoltampere), ("VA", ApparentPowerUnit.Voltampere)]);

    public static readonly Dimension Temperature = new(
        "a temperature",
        TemperatureUnit.DegreeCelsius,
        [("°C", TemperatureUnit.DegreeCelsius), ("°F", TemperatureUnit.DegreeFahrenheit)]);

    public static readonly Dimension TemperatureDifference = new(
        "a difference of temperatures", TemperatureDeltaUnit.Kelvin, [("K", TemperatureDeltaUnit.Kelvin)]);

    public static readonly Dimension Share = new("a share", RatioUnit.DecimalFraction, [("%", RatioUnit.Percent)]);

    public static readonly Dimension Duration = new(
        "a time",
        DurationUnit.Second,
        [("s", DurationUnit.Second), ("min", DurationUnit.Minute), ("h", DurationUnit.Hour)]);

    public static readonly IReadOnlyList<Dimension> All =
        [Length, Voltage, Current, LeakageCurrent, ApparentPower, Temperature, TemperatureDifference, Share, Duration];

    /// <summary>ft, m or in.</summary>
    public string UnitWords => string.Join(", ", Units.SkipLast(1).Select(unit => unit.Word)) is { Length: > 0 } first
        ? $"{first} or {Units[^1].Word}"
        : Units[^1].Word;

    /// <summary>The unit that a word names here; null if none.</summary>
    public Enum? Unit(string word) => Units.FirstOrDefault(unit => unit.Word == word).Unit;

    public double ToInside(double number, Enum unit) => UnitConverter.Convert(number, unit, Inside);

    public double FromInside(double number, Enum unit) => UnitConverter.Convert(number, Inside, unit);
}
