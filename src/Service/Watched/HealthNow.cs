using Farberth.Service.Journaling;
using Farberth.Service.LongHistory;
using Farberth.Service.Views;

namespace Farberth.Service.Watched;

/// <summary>The service's health at the moment somebody asks.</summary>
sealed class HealthNow(LatestView latest, Forwarding forwarding, JournalKeeper keeper, TimeProvider clock)
{
    readonly DateTimeOffset began = clock.GetUtcNow();

    public ServiceHealth Value => ServiceHealth.Of(latest.Value, keeper.State, forwarding.Now, began, clock.GetUtcNow());
}
