using System.Data.Common;
using Microsoft.Extensions.Hosting;
using Serilog;

namespace Farberth.Service.Boater;

/// <summary>Forgets the addresses of boats that have left.</summary>
sealed class Departures(Stays stays, Notices notices, TimeProvider clock, ILogger log) : BackgroundService
{
    static readonly TimeSpan Every = TimeSpan.FromMinutes(10);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every, clock);
        do
            await Look().ConfigureAwait(false);
        while (await timer.WaitForNextTickAsync(stoppingToken).ConfigureAwait(false));
    }

    async Task Look()
    {
        try
        {
            foreach (var told in notices.Told)
                if (await stays.Find(told).ConfigureAwait(false) is not { } stay || stay.RevokedAt != null || stay.To <= clock.GetUtcNow())
                    notices.StopAll(told);
        }
        catch (DbException e)
        {
            log.Warning("Who has left is not known now, and is looked up again: {Reason}", e.Message);
        }
    }
}
