using System.Collections;
using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using System.Runtime.InteropServices;

namespace Farberth.Monitoring.Site;

/// <summary>Names that never change, numbered in order: made once, so that what is told of each of them is an array.</summary>
public sealed class NameList(IEnumerable<string> names)
{
    readonly FrozenDictionary<string, int> index = names.Index().ToFrozenDictionary(pair => pair.Item, pair => pair.Index);

    public ImmutableArray<string> Names { get; } = [.. names];

    public bool TryFind(string name, out int at) => index.TryGetValue(name, out at);

    /// <param name="value">Of the name at a place.</param>
    public ByName<T> Each<T>(Func<int, T> value)
    {
        var values = new T[Names.Length];
        for (var at = 0; at < values.Length; at++)
            values[at] = value(at);
        return new(this, values);
    }
}

/// <summary>One value for each name of a list, in its order. Every rule walks through these at every tick, so walking allocates nothing.</summary>
public sealed class ByName<T> : IReadOnlyDictionary<string, T>
{
    readonly NameList list;

    /// <param name="values">One for each name; from now on nobody else's.</param>
    internal ByName(NameList list, T[] values) => (this.list, Values) = (list, ImmutableCollectionsMarshal.AsImmutableArray(values));

    public ByName(IReadOnlyDictionary<string, T> values)
        : this(new(values.Keys), [.. values.Values])
    {
    }

    public ImmutableArray<T> Values { get; }

    public int Count => Values.Length;

    public IEnumerable<string> Keys => list.Names;

    IEnumerable<T> IReadOnlyDictionary<string, T>.Values => Values;

    /// <exception cref="KeyNotFoundException"/>
    public T this[string name] => list.TryFind(name, out var at) ? Values[at] : throw new KeyNotFoundException($"there is no {name}");

    public bool ContainsKey(string name) => list.TryFind(name, out _);

    public bool TryGetValue(string name, [MaybeNullWhen(false)] out T value)
    {
        var isThere = list.TryFind(name, out var at);
        value = isThere ? Values[at] : default;
        return isThere;
    }

    /// <summary>Another value for each of the same names.</summary>
    public ByName<TTo> Each<TTo>(Func<string, T, TTo> value) => list.Each(at => value(list.Names[at], Values[at]));

    public Enumerator GetEnumerator() => new(this);

    IEnumerator<KeyValuePair<string, T>> IEnumerable<KeyValuePair<string, T>>.GetEnumerator()
    {
        foreach (var pair in this)
            yield return pair;
    }

    IEnumerator IEnumerable.GetEnumerator() => ((IEnumerable<KeyValuePair<string, T>>)this).GetEnumerator();

    public struct Enumerator(ByName<T> of)
    {
        int at = -1;

        public readonly KeyValuePair<string, T> Current => new(of.list.Names[at], of.Values[at]);

        public bool MoveNext() => ++at < of.Count;
    }
}
