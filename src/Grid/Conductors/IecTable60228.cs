namespace Farberth.Grid.Conductors;

/// <summary>IEC 60228:2004 class 2 (stranded): largest DC resistance at 20 °C, ohm per km; copper plain.</summary>
static class IecTable60228
{
    internal sealed record Row(double SquareMillimetres, double Copper, double? Aluminium, Origin Origin)
    {
        internal double? OhmsPerKilometre(Metal metal) => metal == Metal.Copper ? Copper : Aluminium;
    }

    static readonly Origin Read = new(
        "IEC 60228:2004 class 2, plain copper or aluminium",
        Mark.Confirmed,
        "copies agree: kabelmetal-indonesia.com, mycableengineering.com, uecables.com");

    internal static readonly IReadOnlyList<Row> Rows =
    [
        new(1.5, 12.1, null, Read),
        new(2.5, 7.41, null, Read),
        new(4, 4.61, null, Read),
        new(6, 3.08, null, Read),
        new(10, 1.83, 3.08, Read),
        new(16, 1.15, 1.91, Read),
        new(25, 0.727, 1.20, Read),
        new(35, 0.524, 0.868, Read),
        new(50, 0.387, 0.641, Read),
        new(70, 0.268, 0.443, Read),
        new(95, 0.193, 0.320, Read),
        new(120, 0.153, 0.253, Read),
        new(150, 0.124, 0.206, Read),
        new(185, 0.0991, 0.164, Read),
        new(240, 0.0754, 0.125, Read),
        new(300, 0.0601, 0.100, Read),
        new(400, 0.0470, 0.0778, Read),
    ];
}
