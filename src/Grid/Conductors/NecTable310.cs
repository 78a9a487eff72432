namespace Farberth.Grid.Conductors;

/// <summary>
/// NEC table 310.16 (2020 and 2023; 310.15(B)(16) before): amps at 30 °C ambient with not more than three
/// current-carrying conductors in raceway, cable or earth.
/// </summary>
static class NecTable310
{
    internal sealed record Amps(double At60, double At75, double At90)
    {
        internal double Column(TemperatureRating rating) => rating switch
        {
            TemperatureRating.C60 => At60,
            TemperatureRating.C75 => At75,
            _ => At90,
        };
    }

    internal sealed record Row(string Size, Amps? Copper, Amps? Aluminium, Origin Origin)
    {
        internal double SquareMillimetres => NecTable8.For(Size).SquareMillimetres;

        internal Amps? Of(Metal metal) => metal == Metal.Copper ? Copper : Aluminium;
    }

    const string Table = "NFPA 70 (NEC) table 310.16, 2020 and 2023";
    static readonly Origin Read = new(Table, Mark.Confirmed, "wiresizes.com, which states the 2023 edition");
    static readonly Origin Remembered = new(
        Table, Mark.FromMemory, "only the copper 75 °C column was read, in a wire design table (scribd.com 244138700)");

    static readonly Row[] Rows =
    [
        new("14", new(15, 20, 25), null, Read),
        new("12", new(20, 25, 30), new(15, 20, 25), Read),
        new("10", new(30, 35, 40), new(25, 30, 35), Read),
        new("8", new(40, 50, 55), new(35, 40, 45), Read),
        new("6", new(55, 65, 75), new(40, 50, 55), Read),
        new("4", new(70, 85, 95), new(55, 65, 75), Read),
        new("3", new(85, 100, 115), new(65, 75, 85), Read),
        new("2", new(95, 115, 130), new(75, 90, 100), Read),
        new("1", new(110, 130, 145), new(85, 100, 115), Read),
        new("1/0", new(125, 150, 170), new(100, 120, 135), Read),
        new("2/0", new(145, 175, 195), new(115, 135, 150), Read),
        new("3/0", new(165, 200, 225), new(130, 155, 175), Read),
        new("4/0", new(195, 230, 260), new(150, 180, 205), Read),
        new("250", new(215, 255, 290), new(170, 205, 230), Read),
        new("300", new(240, 285, 320), new(195, 230, 260), Read),
        new("350", new(260, 310, 350), new(210, 250, 280), Read),
        new("400", new(280, 335, 380), new(225, 270, 305), Read),
        new("500", new(320, 380, 430), new(260, 310, 350), Read),
        new("600", new(350, 420, 475), new(285, 340, 385), Read),
        new("700", new(385, 460, 520), new(315, 375, 425), Remembered),
        new("750", new(400, 475, 535), new(320, 385, 435), Read),
        new("800", new(410, 490, 555), new(330, 395, 445), Remembered),
        new("900", new(435, 520, 585), new(355, 425, 480), Remembered),
        new("1000", new(455, 545, 615), new(375, 445, 500), Read),
    ];

    internal static Row For(string size) => Array.Find(Rows, row => row.Size == size)!;

    /// <summary>
    /// Amps of an area that the table does not list: log-log between the rows around it, or on from the first two below
    /// 14 AWG. Such a number is ours, not the table's.
    /// </summary>
    internal static Amps ByArea(double squareMillimetres, Metal metal)
    {
        var rows = Rows.Where(row => row.Of(metal) is not null).ToArray();
        var upper = Math.Max(1, Array.FindIndex(rows, row => row.SquareMillimetres >= squareMillimetres));
        var (one, two) = (rows[upper - 1], rows[upper]);
        double At(TemperatureRating rating) => LogLog.Through(
            (one.SquareMillimetres, one.Of(metal)!.Column(rating)),
            (two.SquareMillimetres, two.Of(metal)!.Column(rating)),
            squareMillimetres);
        return new(At(TemperatureRating.C60), At(TemperatureRating.C75), At(TemperatureRating.C90));
    }
}
