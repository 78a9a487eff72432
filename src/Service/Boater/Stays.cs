using Farberth.Monitoring.Site;
using Farberth.Monitoring.Words;
using Farberth.Service.Access;
using Microsoft.EntityFrameworkCore;

namespace Farberth.Service.Boater;

/// <summary>Which boat lies in which slip, kept; one boat a slip at a time.</summary>
public sealed class Stays(IDbContextFactory<PeopleDb> people, SiteDefinition site, TimeProvider clock) : IDisposable
{
    /// <summary>Two seasons (assumed): whoever stays longer is written down again.</summary>
    static readonly TimeSpan Longest = TimeSpan.FromDays(2 * 366);

    const int Most = 1000;

    /// <summary>Between looking whether a slip is free and taking it, nobody else takes it.</summary>
    readonly SemaphoreSlim turn = new(1);

    /// <returns>The stay, or why there is none.</returns>
    public async Task<StayOutcome> Add(StayAsked asked)
    {
        if (Refusal(asked) is { } why)
            return new(null, why);
        var stay = new BoatStay(0, asked.Slip!, asked.Boat!.Trim(), asked.From!.Value.ToUniversalTime(), asked.To!.Value.ToUniversalTime());
        await turn.WaitAsync().ConfigureAwait(false);
        try
        {
            await using var db = await people.CreateDbContextAsync().ConfigureAwait(false);
            var other = await db.Stays.AsNoTracking().Where(one => one.Slip == stay.Slip && one.From < stay.To && stay.From < one.To)
                .OrderBy(one => one.From).FirstOrDefaultAsync().ConfigureAwait(false);
            if (other != null)
                return new(null, Sentence.Of("{0} lies in slip {1} from {2} to {3}: end that stay first, or choose other days.", other.Boat, other.Slip, other.From, other.To), IsTaken: true);
            var added = db.Stays.Add(stay);
            await db.SaveChangesAsync().ConfigureAwait(false);
            return new(added.Entity, null);
        }
        finally
        {
            turn.Release();
        }
    }

    /// <summary>The latest arrival first; at most 1,000.</summary>
    /// <param name="slip">Null: of all slips.</param>
    /// <param name="past">Those that are over too.</param>
    public async Task<IReadOnlyList<BoatStay>> List(string? slip = null, bool past = false)
    {
        var now = clock.GetUtcNow();
        await using var db = await people.CreateDbContextAsync().ConfigureAwait(false);
        return await db.Stays.AsNoTracking().Where(one => (slip == null || one.Slip == slip) && (past || one.To > now))
            .OrderByDescending(one => one.From).ThenByDescending(one => one.Id).Take(Most).ToListAsync().ConfigureAwait(false);
    }

    public async Task<BoatStay?> Find(long id)
    {
        await using var db = await people.CreateDbContextAsync().ConfigureAwait(false);
        return await db.Stays.AsNoTracking().FirstOrDefaultAsync(one => one.Id == id).ConfigureAwait(false);
    }

    /// <summary>The boat has left. A stay that has not begun is over before it begins; one that is over stays as it was.</summary>
    public Task<BoatStay?> End(long id) => Change(id, (stay, now) => stay.To <= now ? stay : stay with { To = stay.From > now ? stay.From : now });

    /// <summary>Its link opens nothing any more.</summary>
    public Task<BoatStay?> Revoke(long id) => Change(id, (stay, now) => stay with { RevokedAt = stay.RevokedAt ?? now });

    public void Dispose() => turn.Dispose();

    async Task<BoatStay?> Change(long id, Func<BoatStay, DateTimeOffset, BoatStay> change)
    {
        await turn.WaitAsync().ConfigureAwait(false);
        try
        {
            if (await Find(id).ConfigureAwait(false) is not { } stay)
                return null;
            var changed = change(stay, clock.GetUtcNow());
            await using var db = await people.CreateDbContextAsync().ConfigureAwait(false);
            db.Stays.Update(changed);
            await db.SaveChangesAsync().ConfigureAwait(false);
            return changed;
        }
        finally
        {
            turn.Release();
        }
    }

    Sentence? Refusal(StayAsked asked) => asked switch
    {
        { Slip: null } or { Boat: null } or { From: null } or { To: null } => Sentence.Of("A stay has a slip, a boat, from and to."),
        _ when !site.Slips.ContainsKey(asked.Slip) => Sentence.Of("There is no slip {0} at {1}.", asked.Slip, site.Name),
        _ when asked.Boat.Trim() is { Length: 0 or > BoatStay.LongestBoatName } => Sentence.Of("The boat's name has 1 to {0} letters.", BoatStay.LongestBoatName),
        _ when asked.Boat.Any(char.IsControl) => Sentence.Of("The boat's name is one line of plain text."),
        _ when asked.To <= asked.From => Sentence.Of("The stay ends before it begins."),
        _ when asked.To - asked.From > Longest => Sentence.Of("A stay is at most {0} days long.", Longest.Days),
        _ when asked.To <= clock.GetUtcNow() => Sentence.Of("The stay is over already."),
        _ => null,
    };
}

/// <summary>What the dock office asks for.</summary>
public sealed record StayAsked(string? Slip, string? Boat, DateTimeOffset? From, DateTimeOffset? To);

/// <param name="Refused">Why there is no stay, in words; null where there is one.</param>
/// <param name="IsTaken">Another boat lies there then.</param>
public sealed record StayOutcome(BoatStay? Stay, Sentence? Refused, bool IsTaken = false);
