namespace Farberth.Service.Views;

/// <summary>The newest view of the site: one writer, any number of readers, each of whom gets one whole view.</summary>
public sealed class LatestView(SiteView first)
{
    volatile SiteView value = first;

    public SiteView Value => value;

    public void Set(SiteView next) => value = next;
}
