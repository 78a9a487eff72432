using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>The values of one mapping by key.</summary>
sealed class Fields
{
    readonly Dictionary<string, YamlValue> _values = [];
    readonly KeySet _keys;

    public Fields(YamlMap map, KeySet keys, ValueReader read)
    {
        (_keys, At) = (keys, map.At);
        var missing = keys.Required.Except(map.Entries.Select(entry => entry.Key)).ToList();
        var absent = keys.All.Except(map.Entries.Select(entry => entry.Key)).ToList();
        foreach (var entry in map.Entries)
        {
            if (keys.All.Contains(entry.Key))
                Keep(entry, read);
            else
                missing.Remove(ReportUnknown(entry, absent, read) ?? "");
        }
        if (missing.Count > 0)
            read.Wrong(At, missing.Count == 1 ? Sentence.Of("Missing here: {0}; add it.", Spelling.Every(missing)) : Sentence.Of("Missing here: {0}; add them.", Spelling.Every(missing)));
    }

    Fields(KeySet keys) => _keys = keys;

    public Place At { get; }

    /// <summary>The value of a known key; null where the file leaves it out or it was reported.</summary>
    public YamlValue? this[string key] => _keys.All.Contains(key)
        ? _values.GetValueOrDefault(key)
        : throw new ArgumentOutOfRangeException(nameof(key), key, "not a key of this mapping");

    /// <summary>Stands in for a mapping that cannot be read.</summary>
    public static Fields Nothing(KeySet keys) => new(keys);

    void Keep(YamlEntry entry, ValueReader read)
    {
        if (entry.Value is YamlScalar { IsNull: true })
            read.Wrong(entry.KeyAt, Sentence.Of("'{0}' has no value; write one, or remove the key.", entry.Key));
        else if (entry.Value is not YamlBroken)
            _values.Add(entry.Key, entry.Value);
    }

    /// <summary>Reports a key that is not known and returns the one that was likely meant.</summary>
    string? ReportUnknown(YamlEntry entry, IReadOnlyList<string> absent, ValueReader read)
    {
        var meant = Spelling.Nearest(entry.Key, absent);
        read.Wrong(entry.KeyAt, meant is null ? Sentence.Of("The key {0} is not known; known here are {1}.", Spelling.Quote(entry.Key), Spelling.Every(_keys.All))
            : Sentence.Of("The key {0} is not known; did you mean '{1}'?", Spelling.Quote(entry.Key), meant));
        return meant;
    }
}
