namespace Farberth.Service.Views;

/// <summary>What is shown of the newest view, worked out once for all who look.</summary>
public sealed class ShownNow(LatestView latest, Showing showing)
{
    readonly Lock gate = new();
    (SiteView View, SiteShown Shown)? last;

    public SiteShown Value => Of(latest.Value);

    public SiteShown Of(SiteView view)
    {
        lock (gate)
        {
            if (last is not { } known || !ReferenceEquals(known.View, view))
                last = known = (view, showing.Site(view));
            return known.Shown;
        }
    }
}
