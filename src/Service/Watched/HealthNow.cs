using Farberth.Service.LongHistory;
using Farberth.Service.Views;

namespace Farberth.Service.Watched;

/// <summary>The service's health at the moment somebody asks.</summary>
sealed class HealthNow(LatestView latest, Forwarding forwarding, TimeProvider clock)
{
    readonly DateTimeOffset began = clock.GetUtcNow();

    public ServiceHealth Value => ServiceHealth.Of(latest.Value, forwarding.Now, began, clock.GetUtcNow());
}
