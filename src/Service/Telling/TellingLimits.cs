namespace Farberth.Service.Telling;

/// <summary>How much a person is told, and how long somebody who is not reached is tried. Figures assumed.</summary>
public sealed record TellingLimits
{
    public static readonly TellingLimits Usual = new();

    /// <summary>
    /// So many messages <see cref="Within"/> that time, on one channel; more are held back and come together in one. It is what ISA-18.2 takes
    /// an operator to manage, one in ten minutes, with a burst on top (from memory). Hazards do not wait.
    /// </summary>
    public int Messages { get; init; } = 6;

    public TimeSpan Within { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>Older than this, an event is not told any more: it would be taken for new.</summary>
    public TimeSpan GiveUpAfter { get; init; } = TimeSpan.FromHours(24);

    /// <summary>A wait that the other side asks for is kept up to this.</summary>
    public TimeSpan LongestAskedWait { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>Of what waits for one person on one channel; beyond it the oldest that is no hazard is given up, and counted.</summary>
    public int Waiting { get; init; } = 1000;
}
