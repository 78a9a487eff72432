using System.Collections.Immutable;

namespace Farberth.Monitoring.Alarms.Rates;

/// <summary>How many alarms people got: what tells a good alarm system from a bad one. Alarms that get worse are not counted again.</summary>
/// <param name="Loads">Of those who answer for the site; boaters get only their own slip's.</param>
/// <param name="Raised">All since the watch began.</param>
/// <param name="Kinds">Raised, by kind.</param>
/// <param name="Priorities">Raised, by the priority with which they were raised.</param>
/// <param name="Top">The ten alarms that were raised most often, by id.</param>
/// <param name="Chattered">Alarms that were raised three times within an hour, ever.</param>
/// <param name="Chattering">Those of them that stand now.</param>
/// <param name="Stale">Alarms that have stood for more than a day.</param>
public sealed record AlarmRates(
    IReadOnlyList<AlarmLoad> Loads,
    int Raised,
    ImmutableSortedDictionary<AlarmKind, int> Kinds,
    ImmutableSortedDictionary<Priority, int> Priorities,
    IReadOnlyList<KeyValuePair<string, int>> Top,
    int Chattered,
    int Chattering,
    int Stale)
{
    public static readonly AlarmRates None = new(
        [], 0, ImmutableSortedDictionary<AlarmKind, int>.Empty, ImmutableSortedDictionary<Priority, int>.Empty, [], 0, 0, 0);

    /// <summary>Share of all alarms that the ten most frequent make.</summary>
    public double TopShare => Raised == 0 ? 0 : Top.Sum(pair => pair.Value) / (double)Raised;

    public double PriorityShare(Priority priority) => Raised == 0 ? 0 : Priorities.GetValueOrDefault(priority) / (double)Raised;

    /// <summary>Every load is what ISA-18.2 calls acceptable, and nothing chatters.</summary>
    public bool MeetsGuidance => Chattering == 0 && Loads.All(load =>
        load.PerPeriod <= AlarmGuidance.PerPeriod && load.FloodShare <= AlarmGuidance.FloodShare) && Stale <= AlarmGuidance.Stale;
}

/// <summary>What one person got.</summary>
/// <param name="Periods">Periods of 10 minutes by the clock that were watched, the one under way included.</param>
/// <param name="FloodPeriods">Those with more than 10 alarms.</param>
/// <param name="Busiest">Most alarms in one period.</param>
public sealed record AlarmLoad(
    Audience For, int Raised, int In10Minutes, int InHour, int InDay, int Periods, int FloodPeriods, int Busiest)
{
    /// <summary>Alarms in a period of 10 minutes, on average.</summary>
    public double PerPeriod => Periods == 0 ? 0 : Raised / (double)Periods;

    public double FloodShare => Periods == 0 ? 0 : FloodPeriods / (double)Periods;
}

/// <summary>
/// What ISA-18.2 / IEC 62682 and its handbooks hold good for one operator. All from memory: a yardstick to look at, no limit.
/// Also from memory, of the ten most frequent alarms: 1 to 5 % of all. The priorities, 80 % low, 15 % medium and 5 % high, are confirmed in
/// a secondary source.
/// </summary>
public static class AlarmGuidance
{
    /// <summary>Alarms in 10 minutes: about 150 a day.</summary>
    public const double PerPeriod = 1;

    /// <summary>The most that can be managed.</summary>
    public const double MostPerPeriod = 2;

    /// <summary>More than this in 10 minutes is a flood.</summary>
    public const int Flood = 10;

    /// <summary>Share of the periods that may be floods.</summary>
    public const double FloodShare = 0.01;

    /// <summary>Alarms that have stood for a day.</summary>
    public const int Stale = 5;
}
