namespace Farberth.HotAfternoon;

/// <summary>Where each message goes; all under farberth/v1/{site}/.</summary>
public sealed class Topics(string site)
{
    public string Weather => $"farberth/v1/{site}/weather";

    public string Reading(string pedestal) => $"farberth/v1/{site}/pedestal/{pedestal}/reading";

    public string Link(string pedestal) => $"farberth/v1/{site}/pedestal/{pedestal}/link";

    public string Boat(string slip) => $"farberth/v1/{site}/slip/{slip}/boat";
}
