namespace Farberth.HotAfternoon;

/// <summary>A thermostat's contact: closes above +half, opens below −half, and stays in between.</summary>
/// <param name="half">Half of the deadband, in the unit of the error.</param>
public sealed class Hysteresis(double half, bool closed = false)
{
    public bool Closed { get; private set; } = closed;

    /// <param name="error">How far the value is on the side that calls for the appliance.</param>
    public bool Step(double error)
    {
        Closed = error > half || (Closed && error >= -half);
        return Closed;
    }
}
