namespace Farberth.Grid.Conductors;

/// <summary>
/// NEC chapter 9 table 9: AC resistance and reactance to neutral, ohm per 1000 ft; 600 V cables, three-phase, 60 Hz,
/// 75 °C, three single conductors in conduit.
/// A decimal keeps the digits as printed: 0.10 is rounded to 0.01, 0.100 to 0.001.
/// </summary>
static class NecTable9
{
    internal sealed record ByRaceway(decimal Pvc, decimal Aluminium, decimal Steel)
    {
        internal decimal In(Raceway raceway) => raceway switch
        {
            Raceway.Aluminium => Aluminium,
            Raceway.Steel => Steel,
            _ => Pvc,
        };
    }

    /// <param name="X">In PVC or aluminium conduit.</param>
    /// <param name="XSteel">In steel conduit.</param>
    internal sealed record Row(
        string Size, decimal X, decimal XSteel, ByRaceway? Copper, ByRaceway? Aluminium, Origin Origin)
    {
        internal decimal Reactance(Raceway raceway) => raceway == Raceway.Steel ? XSteel : X;

        internal ByRaceway? Resistance(Metal metal) => metal == Metal.Copper ? Copper : Aluminium;
    }

    const string Table = "NFPA 70 (NEC) chapter 9 table 9";
    static readonly Origin Read = new(
        Table,
        Mark.Confirmed,
        "copies agree: sfasoft.com, studylib.net 18564968; to 350 kcmil also brunsengineering.com");

    static readonly Origin Between = new(
        Table, Mark.Interpolated, "not printed for this size; between its neighbours");

    static readonly Row[] Rows =
    [
        new("14", 0.058m, 0.073m, new(3.1m, 3.1m, 3.1m), null, Read),
        new("12", 0.054m, 0.068m, new(2.0m, 2.0m, 2.0m), new(3.2m, 3.2m, 3.2m), Read),
        new("10", 0.050m, 0.063m, new(1.2m, 1.2m, 1.2m), new(2.0m, 2.0m, 2.0m), Read),
        new("8", 0.052m, 0.065m, new(0.78m, 0.78m, 0.78m), new(1.3m, 1.3m, 1.3m), Read),
        new("6", 0.051m, 0.064m, new(0.49m, 0.49m, 0.49m), new(0.81m, 0.81m, 0.81m), Read),
        new("4", 0.048m, 0.060m, new(0.31m, 0.31m, 0.31m), new(0.51m, 0.51m, 0.51m), Read),
        new("3", 0.047m, 0.059m, new(0.25m, 0.25m, 0.25m), new(0.40m, 0.41m, 0.40m), Read),
        new("2", 0.045m, 0.057m, new(0.19m, 0.20m, 0.20m), new(0.32m, 0.32m, 0.32m), Read),
        new("1", 0.046m, 0.057m, new(0.15m, 0.16m, 0.16m), new(0.25m, 0.26m, 0.25m), Read),
        new("1/0", 0.044m, 0.055m, new(0.12m, 0.13m, 0.12m), new(0.20m, 0.21m, 0.20m), Read),
        new("2/0", 0.043m, 0.054m, new(0.10m, 0.10m, 0.10m), new(0.16m, 0.16m, 0.16m), Read),
        new("3/0", 0.042m, 0.052m, new(0.077m, 0.082m, 0.079m), new(0.13m, 0.13m, 0.13m), Read),
        new("4/0", 0.041m, 0.051m, new(0.062m, 0.067m, 0.063m), new(0.10m, 0.11m, 0.10m), Read),
        new("250", 0.041m, 0.052m, new(0.052m, 0.057m, 0.054m), new(0.085m, 0.090m, 0.086m), Read),
        new("300", 0.041m, 0.051m, new(0.044m, 0.049m, 0.045m), new(0.071m, 0.076m, 0.072m), Read),
        new("350", 0.040m, 0.050m, new(0.038m, 0.043m, 0.039m), new(0.061m, 0.066m, 0.063m), Read),
        new("400", 0.040m, 0.049m, new(0.033m, 0.038m, 0.035m), new(0.054m, 0.059m, 0.055m), Read),
        new("500", 0.039m, 0.048m, new(0.027m, 0.032m, 0.029m), new(0.043m, 0.048m, 0.045m), Read),
        new("600", 0.039m, 0.048m, new(0.023m, 0.028m, 0.025m), new(0.036m, 0.041m, 0.038m), Read),
        new("750", 0.038m, 0.048m, new(0.019m, 0.024m, 0.021m), new(0.029m, 0.034m, 0.031m), Read),
        new("1000", 0.037m, 0.046m, new(0.015m, 0.019m, 0.018m), new(0.023m, 0.027m, 0.025m), Read),
    ];

    /// <summary>The printed row, or for 700, 800 and 900 kcmil one between the printed neighbours.</summary>
    internal static Row For(string size) => Array.Find(Rows, row => row.Size == size) ?? Interpolated(size);

    static Row Interpolated(string size)
    {
        var area = NecTable8.For(size).CircularMils;
        var upper = Array.FindIndex(Rows, row => NecTable8.For(row.Size).CircularMils > area);
        var (one, two) = (Rows[upper - 1], Rows[upper]);
        decimal At(Func<Row, decimal> column) => decimal.Round((decimal)LogLog.Through(
            (NecTable8.For(one.Size).CircularMils, (double)column(one)),
            (NecTable8.For(two.Size).CircularMils, (double)column(two)),
            area), 3);
        ByRaceway All(Func<Row, ByRaceway> metal) =>
            new(At(row => metal(row).Pvc), At(row => metal(row).Aluminium), At(row => metal(row).Steel));
        return new(
            size,
            At(row => row.X),
            At(row => row.XSteel),
            All(row => row.Copper!),
            All(row => row.Aluminium!),
            Between);
    }
}
