namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>A value of a YAML text with its place. Under a key, a list, a mapping or nothing stands at that key.</summary>
abstract record YamlValue(Place At);

/// <param name="IsPlain">Not quoted.</param>
sealed record YamlScalar(Place At, string Text, bool IsPlain) : YamlValue(At)
{
    /// <summary>True for nothing, ~ and null: the key has no value.</summary>
    public bool IsNull => IsPlain && Text is "" or "~" or "null" or "Null" or "NULL";
}

sealed record YamlList(Place At, IReadOnlyList<YamlValue> Items) : YamlValue(At);

sealed record YamlMap(Place At, IReadOnlyList<YamlEntry> Entries) : YamlValue(At);

/// <summary>Stands for something that was already reported; nobody says more about it.</summary>
sealed record YamlBroken(Place At) : YamlValue(At);

/// <param name="KeyAt">Place of the key; its path is that of the value.</param>
sealed record YamlEntry(Place KeyAt, string Key, YamlValue Value);
