namespace Farberth.Grid.Conductors;

// Sizes of IEC 60228, class 2. R' is the DC resistance in ohm/m at T °C, f = 50 Hz, ω = 2πf, d the diameter of the
// conductor, s the distance between axes.
//
// (a) R' = R20·[1 + α20·(T − 20)], α20 = 0.00393 /K copper, 0.00403 /K aluminium (copper confirmed in a maker's table).
// (b) AC, IEC 60287-1-1 with ks = kp = 1 (round stranded; from memory): R = R'·(1 + ys + yp)
//         x² = 8πf·1e-7/R',   ys = x⁴/(192 + 0.8x⁴)        for x ≤ 2.8 (confirmed at cableizer.com); here x < 1.8
//         yp = ys·(d/s)²·[0.312(d/s)² + 1.18/(ys + 0.27)]  three single cores (from memory)
// (c) X = 0.08 mohm/m at 50 Hz, proportional to f (IEC 60364-5-52 annex G from memory; the Electrical Installation
//     Guide, chapter G, prints the same). In steel ×1.25, the ratio that NEC table 9 shows for every size.
// (d) d/s is the one that this X implies: X = ω·2e-7·ln(s/GMR) with GMR = ½e^(−¼)·d, so s/d = ½·exp(X/(ω·2e-7) − ¼).
//
// Loss in metal raceway is not in these tables and not added: of the order of 0.016 mohm/m in aluminium and 0.005 in
// steel, as NEC table 9 shows for large sizes. At 60 Hz the excess ys + yp would be 1.44 times ours.

sealed record IecConductor(IecTable60228.Row Dc, NecTable310.Amps Ampacity, Metal Metal) : Conductor(
    FormattableString.Invariant($"{Dc.SquareMillimetres} mm2 {Metal.Symbol()}"),
    Metal,
    Dc.SquareMillimetres,
    [Dc.Origin, Reactance, ByArea])
{
    static readonly Origin Reactance = new(
        "IEC 60364-5-52 annex G, 0.08 mohm/m", Mark.FromMemory, "the Electrical Installation Guide prints the same");

    static readonly Origin ByArea = new(
        "NFPA 70 (NEC) table 310.16, by area", Mark.Interpolated, "no IEC ampacity table was at hand");

    const double XAt50Hertz = 0.08e-3;

    // (d)
    static readonly double DiameterOverSpacing = 2 * Math.Exp(0.25 - XAt50Hertz / (2 * Math.PI * 50 * 2e-7));

    public override bool AmpacityIsInterpolated => true;

    public override double OhmsPerMetre(double celsius, Raceway raceway)
    {
        var α20 = Metal == Metal.Copper ? 0.00393 : 0.00403;
        var R = Dc.OhmsPerKilometre(Metal)!.Value / 1000 * (1 + α20 * (celsius - 20));
        return R * (1 + AcExcess(R));
    }

    static double AcExcess(double R)
    {
        var x2 = 8 * Math.PI * 50 * 1e-7 / R;
        var ys = x2 * x2 / (192 + 0.8 * x2 * x2);
        var d2 = DiameterOverSpacing * DiameterOverSpacing;
        return ys + ys * d2 * (0.312 * d2 + 1.18 / (ys + 0.27));
    }

    public override double ReactanceOhmsPerMetre(Raceway raceway, double hertz) =>
        XAt50Hertz * hertz / 50 * (raceway == Raceway.Steel ? 1.25 : 1);

    public override double AmpacityAt30Amps(TemperatureRating rating) => Ampacity.Column(rating);
}
