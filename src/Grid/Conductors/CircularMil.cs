namespace Farberth.Grid.Conductors;

static class CircularMil
{
    /// <summary>Area of a circle of one mil (0.0254 mm) diameter; 1 kcmil = 0.5067 mm².</summary>
    internal const double SquareMillimetres = Math.PI / 4 * 0.0254 * 0.0254;
}
