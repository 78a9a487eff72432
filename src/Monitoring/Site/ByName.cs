using System.Collections;
using System.Collections.Frozen;
using System.Diagnostics.CodeAnalysis;

namespace Farberth.Monitoring.Site;

/// <summary>Names that never change, numbered in order: made once, so that what is told of each of them is an array.</summary>
sealed class NameList(IEnumerable<string> names)
{
    readonly FrozenDictionary<string, int> index = names.Index().ToFrozenDictionary(pair => pair.Item, pair => pair.Index);

    public IReadOnlyList<string> Names { get; } = [.. names];

    public bool TryFind(string name, out int at) => index.TryGetValue(name, out at);

    /// <param name="value">Of the name at a place.</param>
    public ByName<T> Each<T>(Func<int, T> value)
    {
        var values = new T[Names.Count];
        for (var at = 0; at < values.Length; at++)
            values[at] = value(at);
        return new(this, values);
    }
}

/// <summary>One value for each name of a list, in its order.</summary>
sealed class ByName<T>(NameList list, T[] values) : IReadOnlyDictionary<string, T>
{
    public int Count => values.Length;

    public IEnumerable<string> Keys => list.Names;

    public IEnumerable<T> Values => values;

    public T this[string name] => list.TryFind(name, out var at) ? values[at] : throw new KeyNotFoundException($"there is no {name}");

    public bool ContainsKey(string name) => list.TryFind(name, out _);

    public bool TryGetValue(string name, [MaybeNullWhen(false)] out T value)
    {
        var isThere = list.TryFind(name, out var at);
        value = isThere ? values[at] : default;
        return isThere;
    }

    public IEnumerator<KeyValuePair<string, T>> GetEnumerator()
    {
        for (var at = 0; at < values.Length; at++)
            yield return new(list.Names[at], values[at]);
    }

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
