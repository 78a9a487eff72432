using YamlDotNet.RepresentationModel;

namespace Farberth.HotAfternoon;

/// <summary>
/// One mapping of a scenario file while it is read. A mistake is noted and a harmless value returned, so that one pass
/// finds them all; <see cref="Close"/> reports the keys that nobody asked for.
/// </summary>
/// <param name="day">The date that the file's clock times belong to.</param>
public sealed class YamlMap(YamlMappingNode node, DateTime day, List<ScenarioMistake> mistakes)
{
    readonly HashSet<string> asked = [];

    public Place Place => PlaceOf(node);

    public DateTime Day => day;

    public void Complain(Place place, string message) => mistakes.Add(new ScenarioMistake(place, message));

    public Place PlaceOfKey(string key) => Find(key) is { } value ? PlaceOf(value) : Place;

    public bool Has(string key) => Find(key) is not null;

    /// <summary>
    /// The key's scalar; null, with a mistake noted, where it is something else or is missing and must not be.
    /// </summary>
    public string? MaybeText(string key, bool required = true)
    {
        var value = Find(key);
        if (value is YamlScalarNode { Value.Length: > 0 } scalar)
            return scalar.Value;
        if (value is not null)
            Complain(PlaceOf(value), $"'{key}' must be one word or number.");
        else if (required)
            Complain(Place, $"'{key}' is missing.");
        return null;
    }

    public string Text(string key) => MaybeText(key) ?? "";

    public YamlMap? Map(string key) => Find(key) is { } value ? AsMap(value, $"'{key}'") : null;

    public IReadOnlyList<YamlMap> Maps(string key) =>
        [.. Items(key).Select(item => AsMap(item, $"each of '{key}'")).OfType<YamlMap>()];

    /// <summary>Single-key mappings such as "- charger: { … }", with their word.</summary>
    public IReadOnlyList<(string Word, YamlMap Map)> WordedMaps(string key)
    {
        var found = new List<(string, YamlMap)>();
        foreach (var item in Items(key))
        {
            if (item is not YamlMappingNode { Children.Count: 1 } single)
                Complain(PlaceOf(item), $"each of '{key}' must be one word and its settings: '- charger: {{ on: A }}'.");
            else if (AsMap(single.Children[0].Value, $"'{single.Children[0].Key}'") is { } map)
                found.Add((single.Children[0].Key.ToString(), map));
        }
        return found;
    }

    /// <summary>The items of a list; none, with a mistake noted, where the key is no list.</summary>
    public IEnumerable<YamlNode> Items(string key)
    {
        var value = Find(key);
        if (value is YamlSequenceNode sequence)
            return sequence;
        if (value is not null)
            Complain(PlaceOf(value), $"'{key}' must be a list.");
        return [];
    }

    /// <summary>Reports the keys that nobody asked for.</summary>
    public void Close()
    {
        var known = string.Join(", ", asked.Order(StringComparer.Ordinal));
        foreach (var key in node.Children.Keys.Where(key => !asked.Contains(key.ToString())))
            Complain(PlaceOf(key), $"'{key}' is not known here; known are {known}.");
    }

    public static Place PlaceOf(YamlNode node) => new((int)node.Start.Line, (int)node.Start.Column);

    YamlNode? Find(string key)
    {
        asked.Add(key);
        return node.Children.TryGetValue(new YamlScalarNode(key), out var value) ? value : null;
    }

    YamlMap? AsMap(YamlNode value, string what)
    {
        if (value is YamlMappingNode mapping)
            return new YamlMap(mapping, day, mistakes);
        Complain(PlaceOf(value), $"{what} must be keys with values.");
        return null;
    }
}
