using System.Collections;
using System.Runtime.CompilerServices;

namespace Farberth.Monitoring.Site;

/// <summary>
/// Moments of one outlet, oldest first: a part of an array that is not written there any more. Every tick walks thousands of them, as a
/// span.
/// </summary>
[CollectionBuilder(typeof(OutletMoments), nameof(Of))]
public sealed class OutletMoments : IReadOnlyList<OutletMoment>
{
    readonly ArraySegment<OutletMoment> moments;

    internal OutletMoments(ArraySegment<OutletMoment> moments) => this.moments = moments;

    public int Count => moments.Count;

    public OutletMoment this[int index] => moments[index];

    public static OutletMoments Of(ReadOnlySpan<OutletMoment> moments) => new(moments.ToArray());

    public ReadOnlySpan<OutletMoment> AsSpan() => moments;

    public ReadOnlySpan<OutletMoment>.Enumerator GetEnumerator() => AsSpan().GetEnumerator();

    IEnumerator<OutletMoment> IEnumerable<OutletMoment>.GetEnumerator() => ((IEnumerable<OutletMoment>)moments).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => ((IEnumerable<OutletMoment>)this).GetEnumerator();
}
