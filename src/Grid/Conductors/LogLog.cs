namespace Farberth.Grid.Conductors;

static class LogLog
{
    /// <summary>
    /// The power law y = y1·(x/x1)^n through two points, at x. Ampacity and reactance follow one closely between
    /// neighbouring sizes. Outside the two points it extrapolates.
    /// </summary>
    internal static double Through((double X, double Y) one, (double X, double Y) two, double x)
    {
        var n = Math.Log(two.Y / one.Y) / Math.Log(two.X / one.X);
        return one.Y * Math.Pow(x / one.X, n);
    }
}
