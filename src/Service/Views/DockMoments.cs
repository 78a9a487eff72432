namespace Farberth.Service.Views;

/// <summary>A dock now, or at a moment that the history still holds.</summary>
public sealed class DockMoments(LatestView latest, Past past)
{
    /// <param name="at">Null: now.</param>
    /// <returns>Null before the first tick.</returns>
    /// <exception cref="IOException">The disk, or the journal, does not give it.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public async Task<DockMoment?> Of(string dock, DateTimeOffset? at, CancellationToken cancel)
    {
        if (at is { } moment)
            return await past.At(dock, moment, cancel).ConfigureAwait(false);
        return latest.Value.Docks.TryGetValue(dock, out var step) ? new(step, null, []) : null;
    }
}
