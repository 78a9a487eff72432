using System.Collections.Frozen;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Forecast;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Outages;
using Farberth.Monitoring.Risk;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Alarms;

/// <summary>All that a rule may look at: one frozen tick of one dock.</summary>
public sealed record DockPicture(
    SiteDefinition Site, DockDefinition Dock, DockImage Image, DockEstimate Estimate, DockLearned Learned,
    IReadOnlyList<OutletRisk> Outlets)
{
    /// <summary>Who is fed through whom.</summary>
    public required DockTree Tree { get; init; }

    /// <summary>Where several pedestals have lost their supply together.</summary>
    public DockOutages Outages { get; init; } = DockOutages.None;

    /// <summary>Outlets that show a motor which does not start, and the leg.</summary>
    public IReadOnlyDictionary<OutletKey, Leg> Stalled { get; init; } = FrozenDictionary<OutletKey, Leg>.Empty;

    /// <summary>Where even a good finding is of use.</summary>
    public RecalledAlarms Recalled { get; init; } = RecalledAlarms.Everywhere;

    /// <summary>Null without a transformer.</summary>
    public TransformerRisk? Transformer { get; init; }

    /// <summary>The next 24 hours; null before the first quarter-hour has ended.</summary>
    public DockForecast? Forecast { get; init; }
}
