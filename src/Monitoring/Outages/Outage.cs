using Farberth.Grid.Network;

namespace Farberth.Monitoring.Outages;

/// <summary>Several pedestals beyond one point of the feeder were lost together, and none there has spoken of good volts since.</summary>
/// <param name="Point">The outermost point through which all of them are fed: the loss lies there, or further in.</param>
/// <param name="Pedestals">All that are fed through it.</param>
/// <param name="Since">The first sign.</param>
/// <param name="Dead">Legs that somebody said are without volts; none where all have only fallen silent.</param>
/// <param name="IsSettled">False while some of the pedestals may still speak up.</param>
public sealed record Outage(
    string Point, IReadOnlyList<string> Pedestals, DateTimeOffset Since, IReadOnlyList<Leg> Dead, bool IsSettled);

/// <param name="Points">Where an outage could be: points that feed more than one pedestal.</param>
/// <param name="Now">Those that are there, none within another.</param>
public sealed record DockOutages(IReadOnlyList<string> Points, IReadOnlyList<Outage> Now)
{
    public static readonly DockOutages None = new([], []);

    public Outage? At(string point)
    {
        foreach (var outage in Now)
            if (outage.Point == point)
                return outage;
        return null;
    }
}
