namespace Farberth.Monitoring.Telemetry;

/// <summary>
/// What a meter could possibly say. Wide, our own choice: outside it is no measurement but a broken meter or a hand-made
/// message, and would drag through every computation that follows.
/// </summary>
readonly record struct Plausible(double Lowest, double Highest)
{
    /// <summary>More than any dock's fault current.</summary>
    public static readonly Plausible Amps = new(0, 100_000);

    public static readonly Plausible Watts = new(-100e6, 100e6);

    /// <summary>Copper melts at 1085 °C.</summary>
    public static readonly Plausible ContactCelsius = new(-100, 1100);

    /// <summary>The coldest and hottest air ever measured, and a few degrees.</summary>
    public static readonly Plausible AirCelsius = new(-95, 65);

    public static readonly Plausible LeakageMilliamps = new(0, 100e6);

    /// <summary>No clock was ever set to an earlier time.</summary>
    public static readonly DateTimeOffset EarliestTime = DateTimeOffset.UnixEpoch;

    public bool Holds(double value) => value >= Lowest && value <= Highest;
}
