using System.Collections;
using System.Reflection;

namespace Farberth.HotAfternoon.Tests.Restart;

/// <summary>
/// Compares two monitors field by field, down to the last bit, so that no field can be forgotten in a memory. What is left out is
/// listed here, with the reason.
/// </summary>
static class RememberedState
{
    /// <summary>Overwritten before they are read: in each tick, minute or forecast.</summary>
    static readonly HashSet<string> Scratch =
    [
        "SiteMonitor.<Forgotten>k__BackingField", // said once, after the restart
        "WarmFeeder.", "StateEstimator.", "Feeder.", // the feeder's inputs are compared
        "CableTreeMinute.drawn", "CableTreeMinute.drawnSd", "CableTreeMinute.amps", "CableTreeMinute.variance", // put together each minute
        "JointsFit.sds", "JointsFit.means", // set when the joints are solved
        "BreakerWatch.decays", "BreakerWatch.tickSeconds", "BreakerWatch.outlooks", // by the length of a tick
        "BreakerPoints.",
        "WatchedBreaker.ahead", "WatchedBreaker.isNew", "WatchedBreaker.k", // each tick
        "AmpsTrend.differences", // each minute
        "AlarmTrack.<Cause>k__BackingField", "DockMonitor.findings", // each tick
        "Issued.alike", "Series.sample", "Series.centres", "Series.lookedBackAt", "DockSeries.slopeShares", // each forecast
        "Adviser.<LastPlan>k__BackingField", // for tests alone
        "StallWatch.judged", // judged anew where there is none
        "PedestalInbox.frozen", "AlarmBook.recalled", // made of the fields beside it
        "RecentMoments.kept", "RecentMoments.start", "RecentMoments.end", // its window is compared
    ];

    public static IReadOnlyList<string> Differences(object one, object other)
    {
        var found = new List<string>();
        Compare(one, other, one.GetType().Name, found, new(ReferenceEqualityComparer.Instance));
        return found;
    }

    static void Compare(object? one, object? other, string path, List<string> found, HashSet<object> seen)
    {
        if (found.Count >= 20 || ReferenceEquals(one, other))
            return;
        if (one is null || other is null || (one.GetType() != other.GetType() && one is not IEnumerable))
            found.Add($"{path}: {one?.GetType().Name ?? "null"} and {other?.GetType().Name ?? "null"}");
        else if (one is Delegate or Type or TimeZoneInfo or System.Text.Json.Nodes.JsonNode)
            AddIf(one is System.Text.Json.Nodes.JsonNode node && node.ToJsonString() != ((System.Text.Json.Nodes.JsonNode)other).ToJsonString(), one, other, path, found);
        else if (one.GetType().IsPrimitive || one is string or Enum or DateTimeOffset or TimeSpan or decimal)
            AddIf(!IsSame(one, other), one, other, path, found);
        else if (one is ReadOnlyMemory<byte> bytes)
            AddIf(!bytes.Span.SequenceEqual(((ReadOnlyMemory<byte>)other).Span), one, other, path, found);
        else if (!one.GetType().IsValueType && !seen.Add(one))
            return;
        else if (one is IEnumerable all)
            Compare(all.Cast<object?>().ToList(), ((IEnumerable)other).Cast<object?>().ToList(), path, found, seen);
        else
            foreach (var field in Fields(one.GetType()))
                Compare(field.GetValue(one), field.GetValue(other), $"{path}.{field.Name}", found, seen);
    }

    static void Compare(List<object?> one, List<object?> other, string path, List<string> found, HashSet<object> seen)
    {
        AddIf(one.Count != other.Count, one.Count, other.Count, $"{path}.Count", found);
        for (var at = 0; at < one.Count && at < other.Count; at++)
            Compare(one[at], other[at], $"{path}[{at}]", found, seen);
    }

    static bool IsSame(object one, object other) => one is double value
        ? BitConverter.DoubleToInt64Bits(value) == BitConverter.DoubleToInt64Bits((double)other) : one.Equals(other);

    static void AddIf(bool isDifferent, object one, object other, string path, List<string> found)
    {
        if (isDifferent)
            found.Add($"{path}: {one} and {other}");
    }

    static IEnumerable<FieldInfo> Fields(Type type)
    {
        for (var at = type; at != null && at != typeof(object) && at != typeof(ValueType); at = at.BaseType)
            foreach (var field in at.GetFields(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly))
                if (!Scratch.Contains($"{at.Name}.{field.Name}") && !Scratch.Contains($"{at.Name}."))
                    yield return field;
    }
}
