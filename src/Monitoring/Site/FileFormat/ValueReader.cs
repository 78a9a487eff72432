using System.Globalization;
using System.Text.RegularExpressions;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>
/// Reads single values. A value that cannot be read is reported and comes back as null, so that the caller goes on with a
/// stand-in and the rest of the file is checked too; no site is handed out once anything was reported.
/// A null to read means: left out, or reported before.
/// </summary>
sealed partial class ValueReader(MistakeList mistakes)
{
    public void Wrong(Place at, string message) => mistakes.Add(at, message);

    public void Wrong(Place at, Sentence said) => mistakes.Add(at, said);

    /// <summary>The keys of a mapping, with unknown and missing ones reported.</summary>
    public Fields Fields(YamlValue? value, KeySet keys)
    {
        if (value is YamlMap map)
            return new Fields(map, keys, this);
        if (value is not null and not YamlBroken)
            Wrong(value.At, Sentence.Of("Here a mapping is needed with the keys {0}.", Spelling.Every(keys.All)));
        return FileFormat.Fields.Nothing(keys);
    }

    public IReadOnlyList<YamlValue> List(YamlValue? value, string example)
    {
        if (value is YamlList list)
            return list.Items;
        if (value is not null and not YamlBroken)
            Wrong(value.At, Sentence.Of("Here a list is needed, as {0}.", example));
        return [];
    }

    /// <summary>A mapping whose keys are names that the file gives.</summary>
    /// <param name="what">One of them, as "a dock".</param>
    public IReadOnlyList<YamlEntry> Named(YamlValue? value, Sentence what)
    {
        if (value is null or YamlBroken)
            return [];
        if (value is not YamlMap map)
        {
            Wrong(value.At, Sentence.Of("Here a mapping is needed: the name of {0}, a colon, and what belongs to it.", what));
            return [];
        }
        foreach (var entry in map.Entries)
            CheckName(entry.Key, entry.KeyAt);
        return map.Entries;
    }

    public string? Text(YamlValue? value)
    {
        switch (value)
        {
            case null or YamlBroken:
                return null;
            case YamlScalar { IsNull: false } scalar:
                return scalar.Text;
            case YamlScalar:
                Wrong(value.At, Sentence.Of("There is no value here; write one, or remove the key."));
                return null;
            default:
                Wrong(value.At, Sentence.Of("Here a single value is needed, not a list or mapping."));
                return null;
        }
    }

    public string? Name(YamlValue? value) =>
        Text(value) is { } text && CheckName(text, value!.At) ? text : null;

    /// <summary>A number with its unit, in the dimension's inside unit.</summary>
    public double? Quantity(YamlValue? value, Expected expected)
    {
        if (Text(value) is not { } text)
            return null;
        if (QuantityText.TryRead(text, expected, out var number, out var problem))
            return number;
        Wrong(value!.At, problem);
        return null;
    }

    /// <summary>A plain number without a unit.</summary>
    public double? Number(YamlValue? value, Sentence what, double lowest, double highest)
    {
        if (Text(value) is not { } text)
            return null;
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            && number >= lowest && number <= highest)
            return number;
        Wrong(value!.At, Sentence.Of("{0} cannot be {1}; write a plain number from {2} to {3}, without a unit.", what, Spelling.Quote(text), Spelling.Number(lowest), Spelling.Number(highest)));
        return null;
    }

    public int? Count(YamlValue? value, Sentence what, int highest)
    {
        if (Number(value, what, 1, highest) is not { } number)
            return null;
        if (double.IsInteger(number))
            return (int)number;
        Wrong(value!.At, Sentence.Of("{0} cannot be {1}; write a whole number.", what, Spelling.Number(number)));
        return null;
    }

    /// <summary>One word out of a list.</summary>
    public T? Choice<T>(YamlValue? value, IReadOnlyList<(string Word, T Meaning)> choices) where T : struct
    {
        if (Text(value) is not { } text)
            return null;
        foreach (var choice in choices)
        {
            if (choice.Word == text)
                return choice.Meaning;
        }
        Wrong(value!.At, Sentence.Of("{0} is not known here; write {1}.", Spelling.Quote(text), Spelling.Either([.. choices.Select(choice => choice.Word)])));
        return null;
    }

    bool CheckName(string name, Place at)
    {
        if (AllowedName().IsMatch(name))
            return true;
        Wrong(at, Sentence.Of("{0} cannot be a name; use 1 to 64 letters A-Z a-z, digits, '-' and '_'.", Spelling.Quote(name)));
        return false;
    }

    [GeneratedRegex(@"^[A-Za-z0-9_-]{1,64}\z")]
    private static partial Regex AllowedName();
}
