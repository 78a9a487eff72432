namespace Farberth.Planning.Placement;

/// <summary>How long a plan may take.</summary>
/// <param name="Limit">Of the solver's searches together.</param>
/// <param name="Workers">Searches at once; 0: one for each core.</param>
public sealed record PlacementEffort(TimeSpan Limit, int Workers)
{
    public static PlacementEffort Usual { get; } = new(TimeSpan.FromSeconds(30), 0);
}

/// <summary>How a search goes on.</summary>
/// <param name="Stage">"places", "sag" or "wishes".</param>
/// <param name="Best">Of what the stage makes small: boats without a place, or volts.</param>
/// <param name="Bound">No plan can do better.</param>
public sealed record PlacementProgress(string Stage, double Best, double Bound);
