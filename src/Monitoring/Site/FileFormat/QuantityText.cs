using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.RegularExpressions;
using Farberth.Monitoring.Words;
using UnitsNet;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Reads a number with its unit, as "180 ft".</summary>
static partial class QuantityText
{
    /// <summary>Quantities that people write by mistake; only to name them in a message.</summary>
    static IReadOnlyList<QuantityInfo> Foreign =>
    [
        Mass.Info, Area.Info, Volume.Info, Power.Info, Energy.Info, Frequency.Info,
        ElectricResistance.Info, ElectricCharge.Info, Pressure.Info, Speed.Info,
    ];

    /// <summary>False: no plausible quantity can be read, and the problem says why.</summary>
    /// <param name="value">In the inside unit of the dimension.</param>
    public static bool TryRead(string text, Expected expected, out double value, [NotNullWhen(false)] out Sentence? problem)
    {
        value = double.NaN;
        var parts = NumberThenWord().Match(text);
        var dimension = expected.Dimension;
        var wanted = Sentence.Of("write {0} in {1}, as '{2}'", dimension.Name, dimension.UnitWords, expected.Example);
        if (!parts.Success)
            problem = Sentence.Of("{0} is not a number with a unit; {1}.", Spelling.Quote(text), wanted);
        else if (parts.Groups["unit"].Value is not { Length: > 0 } word)
            problem = Sentence.Of("{0} has no unit; {1}.", Spelling.Quote(text), wanted);
        else if (word.StartsWith(','))
            problem = Sentence.Of("{0} has a comma in its number; {1}, with a point for decimals.", Spelling.Quote(text), wanted);
        else if (dimension.Unit(word) is not { } unit)
            problem = Sentence.Of("{0} {1}; {2}.", Spelling.Quote(text), WhatIs(word, dimension), wanted);
        else
            return IsPlausible(parts.Groups["number"].Value, unit, expected, out value, out problem);
        return false;
    }

    static bool IsPlausible(string digits, Enum unit, Expected expected, out double value, [NotNullWhen(false)] out Sentence? problem)
    {
        var number = double.Parse(digits, NumberStyles.Float, CultureInfo.InvariantCulture);
        value = double.IsFinite(number) ? expected.Dimension.ToInside(number, unit) : double.NaN;
        var slack = 1e-9 * Math.Max(Math.Abs(expected.Lowest), Math.Abs(expected.Highest));
        problem = null;
        if (value >= expected.Lowest - slack && value <= expected.Highest + slack)
            return true;
        problem = Sentence.Of("{0} cannot be {1} {2}; it lies between {3} and {4}.", expected.What, Spelling.Quote(digits), Word(unit, expected), Show(expected.Lowest), Show(expected.Highest));
        return false;

        string Show(double bound) => $"{FourDigits(expected.Dimension.FromInside(bound, unit))} {Word(unit, expected)}";
    }

    static string FourDigits(double number) =>
        decimal.Parse(number.ToString("G4", CultureInfo.InvariantCulture), NumberStyles.Float, CultureInfo.InvariantCulture)
            .ToString(CultureInfo.InvariantCulture);

    static string Word(Enum unit, Expected expected) =>
        expected.Dimension.Units.First(known => Equals(known.Unit, unit)).Word;

    static Sentence WhatIs(string word, Dimension wanted)
    {
        var near = wanted.Units.Select(unit => unit.Word)
            .FirstOrDefault(known => known.Trim('°').Equals(word, StringComparison.OrdinalIgnoreCase));
        if (near is not null)
            return Sentence.Of("should end in '{0}'", near);
        if (Dimension.All.FirstOrDefault(dimension => dimension.Unit(word) is not null) is { } other)
            return Sentence.Of("is {0}", other.Name);
        var foreign = Foreign.FirstOrDefault(
            info => UnitParser.Default.TryParse(word, info.UnitType, CultureInfo.InvariantCulture, out _));
        return foreign is null
            ? Sentence.Of("has an unknown unit {0}", Spelling.Quote(word))
            : Sentence.Of("is in a unit of {0}", Spaced(foreign.Name));
    }

    /// <summary>ElectricCharge becomes electric charge.</summary>
    static string Spaced(string name) =>
        string.Concat(name.Select((letter, i) => i > 0 && char.IsUpper(letter) ? " " + letter : letter.ToString()))
            .ToLowerInvariant();

    [GeneratedRegex(@"^(?<number>[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?)\s*(?<unit>\S.*)?$")]
    private static partial Regex NumberThenWord();
}
