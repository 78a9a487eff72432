using Farberth.Service.Views;
using Microsoft.AspNetCore.Components;

namespace Farberth.Service.Office.Live;

/// <summary>A page that shows what is now, and follows it for as long as somebody looks.</summary>
public abstract class LivePage : ComponentBase, IDisposable
{
    /// <summary>Several docks tick one after another: they are shown together.</summary>
    static readonly TimeSpan Together = TimeSpan.FromMilliseconds(50);

    /// <summary>Without news for so long, the age of what is shown is looked at again.</summary>
    static readonly TimeSpan LookAgain = TimeSpan.FromSeconds(5);

    /// <summary>Ticks come every second; older than this is old news.</summary>
    static readonly TimeSpan Old = TimeSpan.FromSeconds(15);

    readonly CancellationTokenSource gone = new();

    [Inject] protected LatestView Latest { get; set; } = default!;

    [Inject] protected ShownNow Shown { get; set; } = default!;

    [Inject] Turns Turns { get; set; } = default!;

    [Inject] protected TimeProvider Clock { get; set; } = default!;

    /// <summary>What pedestals say is on the page, so that it does not wait for the tick that judges it.</summary>
    protected virtual bool ShowsReadings => false;

    protected SiteShown Now { get; private set; } = default!;

    /// <summary>How old the picture is, once it is old; else null.</summary>
    protected TimeSpan? OldFor => Now.Now is { } at && Clock.GetUtcNow() - at is var age && age > Old ? age : null;

    protected override void OnInitialized()
    {
        Now = Shown.Value;
        if (RendererInfo.IsInteractive)
            _ = Follow();
    }

    public void Dispose()
    {
        gone.Cancel();
        gone.Dispose();
        GC.SuppressFinalize(this);
    }

    async Task Follow()
    {
        var (seen, stop) = (Latest.Value, gone.Token);
        try
        {
            while (!stop.IsCancellationRequested)
            {
                var before = seen;
                seen = await Newer(seen, stop).ConfigureAwait(false);
                var onlyHeard = !ReferenceEquals(seen, before) && seen.Heard.Count > 0 && ReferenceEquals(seen.Docks, before.Docks);
                if (onlyHeard && !ShowsReadings)
                    continue;
                await Turns.Take(() => InvokeAsync(() =>
                {
                    seen = Latest.Value;
                    Now = Shown.Of(seen);
                    StateHasChanged();
                }), stop).ConfigureAwait(false);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException)
        {
            // Nobody looks any more.
        }
    }

    async Task<SiteView> Newer(SiteView seen, CancellationToken stop)
    {
        try
        {
            await Latest.After(seen, stop).WaitAsync(LookAgain, stop).ConfigureAwait(false);
            await Task.Delay(Together, stop).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            // The same again, which is older by now.
        }
        return Latest.Value;
    }
}
