namespace Farberth.Grid.Conductors;

/// <summary>NEC chapter 9 table 8: DC resistance at 75 °C, ohm per 1000 ft; stranded, copper uncoated.</summary>
static class NecTable8
{
    internal sealed record Row(string Size, int CircularMils, decimal Copper, decimal Aluminium, Origin Origin)
    {
        internal bool IsGauge => CircularMils < 250_000;

        internal double SquareMillimetres => CircularMils * CircularMil.SquareMillimetres;

        internal decimal OhmsPer1000Feet(Metal metal) => metal == Metal.Copper ? Copper : Aluminium;
    }

    static readonly Origin Read = new(
        "NFPA 70 (NEC) chapter 9 table 8, stranded, uncoated",
        Mark.Confirmed,
        "two copies agree: sfasoft.com, electrical-design-tutor.com");

    internal static readonly IReadOnlyList<Row> Rows =
    [
        new("14", 4_110, 3.14m, 5.17m, Read),
        new("12", 6_530, 1.98m, 3.25m, Read),
        new("10", 10_380, 1.24m, 2.04m, Read),
        new("8", 16_510, 0.778m, 1.28m, Read),
        new("6", 26_240, 0.491m, 0.808m, Read),
        new("4", 41_740, 0.308m, 0.508m, Read),
        new("3", 52_620, 0.245m, 0.403m, Read),
        new("2", 66_360, 0.194m, 0.319m, Read),
        new("1", 83_690, 0.154m, 0.253m, Read),
        new("1/0", 105_600, 0.122m, 0.201m, Read),
        new("2/0", 133_100, 0.0967m, 0.159m, Read),
        new("3/0", 167_800, 0.0766m, 0.126m, Read),
        new("4/0", 211_600, 0.0608m, 0.100m, Read),
        new("250", 250_000, 0.0515m, 0.0847m, Read),
        new("300", 300_000, 0.0429m, 0.0707m, Read),
        new("350", 350_000, 0.0367m, 0.0605m, Read),
        new("400", 400_000, 0.0321m, 0.0529m, Read),
        new("500", 500_000, 0.0258m, 0.0424m, Read),
        new("600", 600_000, 0.0214m, 0.0353m, Read),
        new("700", 700_000, 0.0184m, 0.0303m, Read),
        new("750", 750_000, 0.0171m, 0.0282m, Read),
        new("800", 800_000, 0.0161m, 0.0265m, Read),
        new("900", 900_000, 0.0143m, 0.0235m, Read),
        new("1000", 1_000_000, 0.0129m, 0.0212m, Read),
    ];

    internal static Row For(string size) => Rows.First(row => row.Size == size);
}
