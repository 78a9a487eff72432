using Farberth.Adapters.Stores.InfluxDb;

namespace Farberth.Service.LongHistory;

/// <summary>One log on its way to the database.</summary>
/// <param name="Fill">What waits, as a share of what the log can hold before it lets go of the oldest.</param>
public sealed record Carried(string Name, ForwarderState State, double Fill)
{
    /// <summary>Above this somebody should look: at a steady rate a third of the time is left.</summary>
    public const double HighFill = 0.75;

    public bool IsHigh => Fill >= HighFill;
}
