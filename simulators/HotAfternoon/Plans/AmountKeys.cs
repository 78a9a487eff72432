using System.Globalization;

namespace Farberth.HotAfternoon;

/// <summary>Reads numbers and words from a mapping.</summary>
static class AmountKeys
{
    /// <summary>A number with a unit, in the quantity's own unit.</summary>
    /// <param name="otherwise">Where the key is left out; null: it must be there.</param>
    public static double Amount(this YamlMap map, string key, Quantity quantity, double? otherwise = null)
    {
        if (map.MaybeText(key, required: otherwise is null) is not { } text)
            return otherwise ?? 0;
        if (QuantityText.TryRead(text, quantity, out var value))
            return value;
        map.Complain(
            map.PlaceOfKey(key),
            $"'{key}: {text}' is not a number with one of the units {QuantityText.UnitsOf(quantity)}.");
        return otherwise ?? 1;
    }

    public static double Positive(this YamlMap map, string key, Quantity quantity, double? otherwise = null)
    {
        var value = map.Amount(key, quantity, otherwise);
        if (value <= 0 && map.Has(key))
            map.Complain(map.PlaceOfKey(key), $"'{key}' must be more than zero.");
        return value > 0 ? value : 1;
    }

    /// <summary>0 to 100 %, as 0 to 1.</summary>
    public static double Share(this YamlMap map, string key, double? otherwise = null)
    {
        var value = map.Amount(key, Quantity.Share, otherwise);
        if (value is < 0 or > 1)
            map.Complain(map.PlaceOfKey(key), $"'{key}' must be from 0 to 100 %.");
        return Math.Clamp(value, 0, 1);
    }

    /// <summary>A time span longer than nothing.</summary>
    public static TimeSpan Duration(this YamlMap map, string key, double otherwiseSeconds) =>
        TimeSpan.FromSeconds(map.Positive(key, Quantity.Seconds, otherwiseSeconds));

    public static double Number(this YamlMap map, string key, double otherwise)
    {
        if (map.MaybeText(key, required: false) is not { } text)
            return otherwise;
        var isNumber = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value);
        if (isNumber && double.IsFinite(value))
            return value;
        map.Complain(map.PlaceOfKey(key), $"'{key}: {text}' is not a number.");
        return otherwise;
    }

    /// <summary>One of the given words; left out, the first.</summary>
    public static string Choice(this YamlMap map, string key, params string[] words)
    {
        var text = map.MaybeText(key, required: false) ?? words[0];
        if (words.Contains(text))
            return text;
        map.Complain(map.PlaceOfKey(key), $"'{key}' must be one of {string.Join(", ", words)}, not '{text}'.");
        return words[0];
    }
}
