using System.Collections;
using System.Runtime.CompilerServices;

namespace Farberth.Grid.Network;

/// <summary>Some conductors in order. Every tick walks them thousands of times, and so walking them allocates nothing.</summary>
[CollectionBuilder(typeof(LegList), nameof(Of))]
public sealed class LegList : IReadOnlyList<Leg>
{
    readonly Leg[] legs;

    LegList(Leg[] legs) => this.legs = legs;

    public int Count => legs.Length;

    public Leg this[int index] => legs[index];

    public static LegList Of(ReadOnlySpan<Leg> legs) => new(legs.ToArray());

    public Enumerator GetEnumerator() => new(legs);

    IEnumerator<Leg> IEnumerable<Leg>.GetEnumerator() => legs.AsEnumerable().GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => legs.GetEnumerator();

    public struct Enumerator
    {
        readonly Leg[] legs;
        int at;

        internal Enumerator(Leg[] legs) => (this.legs, at) = (legs, -1);

        public readonly Leg Current => legs[at];

        public bool MoveNext() => ++at < legs.Length;
    }
}
