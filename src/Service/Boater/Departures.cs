using Microsoft.Extensions.Hosting;

namespace Farberth.Service.Boater;

/// <summary>Forgets the addresses of boats that have left.</summary>
sealed class Departures(Stays stays, Notices notices, TimeProvider clock) : BackgroundService
{
    static readonly TimeSpan Every = TimeSpan.FromMinutes(10);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every, clock);
        do
        {
            foreach (var told in notices.Told)
                if (await stays.Find(told).ConfigureAwait(false) is not { } stay || stay.RevokedAt != null || stay.To <= clock.GetUtcNow())
                    notices.StopAll(told);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken).ConfigureAwait(false));
    }
}
