using Farberth.Monitoring.Words;
using UnitsNet;
using UnitsNet.Units;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>A kind of quantity, the unit words that a site file may use for it, and the unit used inside.</summary>
/// <param name="Name">With its article, as "a length".</param>
/// <param name="Inside">The unit of the number that is handed on.</param>
sealed record Dimension(Sentence Name, Enum Inside, IReadOnlyList<(string Word, Enum Unit)> Units)
{
    public static readonly Dimension Length = new(
        Sentence.Of("a length"), LengthUnit.Meter, [("ft", LengthUnit.Foot), ("m", LengthUnit.Meter), ("in", LengthUnit.Inch)]);

    public static readonly Dimension Voltage = new(Sentence.Of("a voltage"), ElectricPotentialUnit.Volt, [("V", ElectricPotentialUnit.Volt)]);

    public static readonly Dimension Current = new(
        Sentence.Of("a current"), ElectricCurrentUnit.Ampere, [("A", ElectricCurrentUnit.Ampere), ("kA", ElectricCurrentUnit.Kiloampere)]);

    public static readonly Dimension LeakageCurrent = new(
        Sentence.Of("a leakage current"), ElectricCurrentUnit.Milliampere, [("mA", ElectricCurrentUnit.Milliampere)]);

    public static readonly Dimension ApparentPower = new(
        Sentence.Of("an apparent power"),
        ApparentPowerUnit.Voltampere,
        [("kVA", ApparentPowerUnit.Kilovoltampere), ("VA", ApparentPowerUnit.Voltampere)]);

    public static readonly Dimension Temperature = new(
        Sentence.Of("a temperature"),
        TemperatureUnit.DegreeCelsius,
        [("°C", TemperatureUnit.DegreeCelsius), ("°F", TemperatureUnit.DegreeFahrenheit)]);

    public static readonly Dimension TemperatureDifference = new(
        Sentence.Of("a difference of temperatures"), TemperatureDeltaUnit.Kelvin, [("K", TemperatureDeltaUnit.Kelvin)]);

    public static readonly Dimension Share = new(Sentence.Of("a share"), RatioUnit.DecimalFraction, [("%", RatioUnit.Percent)]);

    public static readonly Dimension Duration = new(
        Sentence.Of("a time"),
        DurationUnit.Second,
        [("s", DurationUnit.Second), ("min", DurationUnit.Minute), ("h", DurationUnit.Hour)]);

    public static readonly IReadOnlyList<Dimension> All =
        [Length, Voltage, Current, LeakageCurrent, ApparentPower, Temperature, TemperatureDifference, Share, Duration];

    /// <summary>ft, m or in.</summary>
    public Sentence UnitWords => string.Join(", ", Units.SkipLast(1).Select(unit => unit.Word)) is { Length: > 0 } first
        ? Sentence.Of("{0} or {1}", first, Units[^1].Word)
        : Sentence.Of("{0}", Units[^1].Word);

    /// <summary>The unit that a word names here; null if none.</summary>
    public Enum? Unit(string word) => Units.FirstOrDefault(unit => unit.Word == word).Unit;

    public double ToInside(double number, Enum unit) => UnitConverter.Convert(number, unit, Inside);

    public double FromInside(double number, Enum unit) => UnitConverter.Convert(number, Inside, unit);
}
