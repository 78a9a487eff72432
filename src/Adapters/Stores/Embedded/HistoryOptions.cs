namespace Farberth.Adapters.Stores.Embedded;

/// <summary>How long what is kept. Our own choice: a season and the one before it in minutes, ten years in quarters of an hour.</summary>
/// <param name="MostBytes">Of the file. When it is reached, the oldest readings go first, then the oldest minutes.</param>
public sealed record HistoryOptions(TimeSpan Readings, TimeSpan Minutes, TimeSpan Quarters, long MostBytes)
{
    public static readonly HistoryOptions Usual = new(TimeSpan.FromDays(90), TimeSpan.FromDays(800), TimeSpan.FromDays(3660), 8L << 30);
}

/// <summary>What became of a batch of readings.</summary>
/// <param name="New">Readings that were not there yet.</param>
/// <param name="Problem">Null: all of it is on disk, with the cursor. Else what the disk said, and none of it is.</param>
public readonly record struct Stored(int New, string? Problem = null)
{
    public bool IsDurable => Problem is null;
}

/// <summary>Rows of a query, oldest first.</summary>
/// <param name="IsCut">There were more than were asked for.</param>
public sealed record HistoryRows<T>(IReadOnlyList<T> Rows, bool IsCut);

/// <summary>One outlet over one minute or one quarter of an hour.</summary>
/// <param name="Readings">Of its pedestal.</param>
/// <param name="Volts">Of the pedestal's L1, L2, L3 and N, to neutral.</param>
/// <param name="Amps">Of L1, L2, L3. Over a quarter of an hour the mean is the demand.</param>
/// <param name="Kilovoltamperes">Of all legs together, where there are volts.</param>
public sealed record OutletSpan(
    DateTimeOffset Start, int Readings, IReadOnlyList<Spread> Volts, IReadOnlyList<Spread> Amps,
    Spread Kilovoltamperes, Spread Kilowatts, Spread Celsius);

/// <summary>One pedestal over one minute or one quarter of an hour.</summary>
/// <param name="Volts">Of L1, L2, L3 and N, to neutral.</param>
/// <param name="Amps">By outlet: of L1, L2, L3.</param>
public sealed record PedestalSpan(
    DateTimeOffset Start, int Readings, IReadOnlyList<Spread> Volts, IReadOnlyDictionary<string, IReadOnlyList<Spread>> Amps);
