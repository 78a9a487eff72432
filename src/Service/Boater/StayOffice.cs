using Farberth.Service.Access;

namespace Farberth.Service.Boater;

/// <summary>What the dock office does about stays, by page or API: written down who did it, and nobody is told anything of a stay that is over.</summary>
sealed class StayOffice(Stays stays, Notices notices, Audit audit)
{
    public async Task<StayOutcome> Add(StayAsked asked, string by)
    {
        var outcome = await stays.Add(asked).ConfigureAwait(false);
        await audit.Write(by, "add stay", $"{asked.Boat} in slip {asked.Slip}", outcome.Refused?.ToString() ?? "done").ConfigureAwait(false);
        return outcome;
    }

    /// <returns>Null: there is no such stay.</returns>
    public Task<BoatStay?> End(long id, string by) => Leave(id, "end stay", stays.End, by);

    /// <returns>Null: there is no such stay.</returns>
    public Task<BoatStay?> Revoke(long id, string by) => Leave(id, "revoke link of stay", stays.Revoke, by);

    async Task<BoatStay?> Leave(long id, string what, Func<long, Task<BoatStay?>> change, string by)
    {
        var stay = await change(id).ConfigureAwait(false);
        notices.StopAll(id);
        await audit.Write(by, what, stay == null ? $"{id}" : $"{id}: {stay.Boat} in slip {stay.Slip}", stay == null ? "there is no such stay" : "done").ConfigureAwait(false);
        return stay;
    }
}
