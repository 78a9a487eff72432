using System.Collections.Immutable;
using Farberth.Monitoring.Alarms;

namespace Farberth.Service.Views;

/// <summary>The last alarm transitions, and how many there have been. Immutable and bounded.</summary>
/// <param name="Count">All transitions since the start, also those that are no longer in <paramref name="Last"/>.</param>
/// <param name="Last">The newest last.</param>
/// <param name="Raised">How often alarms of each kind were raised; one that gets worse is not raised again.</param>
public sealed record AlarmHistory(
    long Count, ImmutableQueue<AlarmTransition> Last, int Kept, ImmutableSortedDictionary<AlarmKind, int> Raised)
{
    public const int Most = 500;

    public static readonly AlarmHistory Empty = new(0, [], 0, ImmutableSortedDictionary<AlarmKind, int>.Empty);

    /// <summary>The transitions after the first <paramref name="seen"/>, as far as they are still there.</summary>
    public IEnumerable<AlarmTransition> Since(long seen) => Last.Skip((int)Math.Max(0, Kept - (Count - seen)));

    public AlarmHistory Add(IEnumerable<AlarmTransition> transitions) =>
        transitions.Aggregate(this, (history, transition) => history.Add(transition));

    AlarmHistory Add(AlarmTransition transition) => new(
        Count + 1,
        (Kept == Most ? Last.Dequeue() : Last).Enqueue(transition),
        Math.Min(Most, Kept + 1),
        transition.IsRaise ? Raised.SetItem(transition.Alarm.Kind, Raised.GetValueOrDefault(transition.Alarm.Kind) + 1) : Raised);
}
