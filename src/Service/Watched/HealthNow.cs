using Farberth.Service.Journaling;
using Farberth.Service.LongHistory;
using Farberth.Service.Loop;
using Farberth.Service.Views;

namespace Farberth.Service.Watched;

/// <summary>The service's health at the moment somebody asks.</summary>
/// <param name="history">Null where none is kept.</param>
sealed class HealthNow(LatestView latest, Forwarding forwarding, JournalKeeper keeper, TimeProvider clock, HistoryWriter? history = null)
{
    readonly DateTimeOffset began = clock.GetUtcNow();

    public ServiceHealth Value => ServiceHealth.Of(latest.Value, keeper.State, history?.Problem, forwarding.Now, began, clock.GetUtcNow());
}
