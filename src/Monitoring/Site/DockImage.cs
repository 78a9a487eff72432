using Farberth.Grid.Network;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Site;

/// <summary>What is known of one dock at one moment, frozen: every rule of a tick sees this and nothing newer.</summary>
public sealed record DockImage(
    DateTimeOffset Now, ByName<PedestalImage> Pedestals, Weather? Weather)
{
    /// <summary>Every outlet with its pedestal, at every moment in the same order: what goes by their place needs no names.</summary>
    public IReadOnlyList<(PedestalImage Pedestal, OutletImage Outlet)> Outlets { get; } =
        [.. Pedestals.Values.SelectMany(pedestal => pedestal.Outlets.Values, (pedestal, outlet) => (pedestal, outlet))];

    /// <summary>Every pedestal has been heard, or has been silent for so long that waiting on is no use. Nothing is judged before.</summary>
    public bool IsWhole
    {
        get
        {
            foreach (var pedestal in Pedestals.Values)
                if (!pedestal.IsFresh && !(pedestal.WaitedFor > PedestalImage.FreshFor))
                    return false;
            return true;
        }
    }
}

/// <param name="Latest">The newest reading by the pedestal's own time; null before the first.</param>
/// <param name="Previous">The newest reading before <paramref name="Latest"/>; null before the second.</param>
/// <param name="SilentFor">Since its newest reading arrived, or since the watch began.</param>
/// <param name="Online">What its birth or last will says; null before either.</param>
public sealed record PedestalImage(
    PedestalDefinition Definition,
    Reading? Latest,
    Reading? Previous,
    TimeSpan SilentFor,
    bool? Online,
    ByName<OutletImage> Outlets)
{
    /// <summary>Readings older than this say nothing of the volts now; amps are held as the best guess.</summary>
    public static readonly TimeSpan FreshFor = TimeSpan.FromSeconds(90);

    public bool IsFresh => Latest != null && SilentFor <= FreshFor;

    /// <summary>How much of <see cref="SilentFor"/> somebody listened: less while the service has been back for less.</summary>
    public TimeSpan WaitedFor { get; init; } = SilentFor;
}

/// <param name="Latest">The newest reading that had this outlet; null before the first.</param>
/// <param name="Recent">What it drew in the last <see cref="RecentFor"/> before its newest reading, oldest first.</param>
/// <param name="LastDrew">When it last drew as much as a boat does.</param>
/// <param name="BoatPresent">Whether a boat lies in its slip; null where nobody has said.</param>
public sealed record OutletImage(
    OutletDefinition Definition,
    OutletReading? Latest,
    OutletMoments Recent,
    DateTimeOffset? LastDrew,
    bool? BoatPresent)
{
    /// <summary>Lowest volts of any leg in <see cref="Recent"/>; 0 where nobody has looked.</summary>
    public double LowestRecentVolts { get; init; }

    public static readonly TimeSpan RecentFor = TimeSpan.FromMinutes(15);
}

/// <summary>One outlet in one reading of its pedestal.</summary>
/// <param name="Volts">Leg to neutral, of the pedestal.</param>
public sealed record OutletMoment(DateTimeOffset Time, PerLeg Volts, OutletReading Outlet);
