using Microsoft.EntityFrameworkCore;

namespace Farberth.Service.Access;

/// <summary>Who did what, kept.</summary>
public sealed class Audit(IDbContextFactory<PeopleDb> people, TimeProvider clock)
{
    public async Task Write(string by, string what, string which, string outcome = "done")
    {
        await using var db = await people.CreateDbContextAsync().ConfigureAwait(false);
        db.Deeds.Add(new(0, clock.GetUtcNow(), by, what, which, outcome));
        await db.SaveChangesAsync().ConfigureAwait(false);
    }

    /// <summary>The latest first.</summary>
    /// <param name="before">Only what has a lower number; null: from the latest.</param>
    public async Task<IReadOnlyList<Deed>> Latest(int most, long? before = null)
    {
        await using var db = await people.CreateDbContextAsync().ConfigureAwait(false);
        return await db.Deeds.AsNoTracking().Where(deed => before == null || deed.Id < before).OrderByDescending(deed => deed.Id).Take(most).ToListAsync().ConfigureAwait(false);
    }
}
