using System.Data.Common;
using Farberth.Service.Views;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace Farberth.Service.Boater;

/// <summary>The page is made once for nobody, so that the first boater on the pontoon does not wait for the compiler.</summary>
sealed class Rehearsal(LatestView latest, Stays stays, IServiceProvider services, ILoggerFactory logs, TimeProvider clock) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        await Task.Yield();
        var (view, now) = (latest.Value, clock.GetUtcNow());
        if (view.Site.Slips.Keys.FirstOrDefault() is not { } slip)
            return;
        try
        {
            await stays.Find(0).ConfigureAwait(false);
        }
        catch (DbException)
        {
            // Whoever really asks will see what is wrong.
        }
        var shown = new BoaterShown(view.Site, new(0, slip, "", now, now), SlipNow.Of(view, slip, now), [], null, "", new(), null) { HasMail = true, PushKey = "" };
        var renderer = new HtmlRenderer(services, logs);
        await using (renderer.ConfigureAwait(false))
            await renderer.Dispatcher.InvokeAsync(() => renderer.RenderComponentAsync<BoaterPage>(
                ParameterView.FromDictionary(new Dictionary<string, object?> { [nameof(BoaterPage.Shown)] = shown }))).ConfigureAwait(false);
    }
}
