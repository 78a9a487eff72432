namespace Farberth.Grid.Conductors;

// Sizes of the NEC, AWG and kcmil. T is the conductor's temperature in °C; R8 is table 8 (DC, 75 °C); R9 and X9 are
// table 9 (AC, 75 °C, 60 Hz, in its raceway).
//
// (a) Table 8, note: Rdc(T) = R8·[1 + α·(T − 75)], α = 0.00323 /K copper, 0.00330 /K aluminium (confirmed at
//     forums.mikeholt.com, thread 2586). They are 1/(234.5 + 75) and 1/(228.1 + 75): the inferred zeros of the metals.
// (b) Skin effect, proximity, and eddy currents in metal raceway add R9 − R8. Table 9 is rounded coarsely: 2/0 Cu
//     prints 0.10 against 0.0967, which is no excess. So the excess counts only where rounding cannot explain it:
//         ΔR = R9 − R8 where that is above half a step of the last printed digit of R9, else 0.
//         R(T) = Rdc(T) + ΔR.
//     ΔR is that of 60 Hz, held over temperature: skin effect falls a little as R rises, conduit loss hardly moves.
// (c) X = X9·f/60.

sealed record NecConductor(NecTable8.Row Dc, NecTable9.Row Ac, NecTable310.Row Ampacity, Metal Metal) : Conductor(
    $"{Dc.Size} {(Dc.IsGauge ? "AWG" : "kcmil")} {Metal.Symbol()}",
    Metal,
    Dc.SquareMillimetres,
    [Dc.Origin, Ac.Origin, Ampacity.Origin])
{
    const double MetresPer1000Feet = 304.8;

    public override bool AmpacityIsInterpolated => false;

    public override double OhmsPerMetre(double celsius, Raceway raceway)
    {
        var α = Metal == Metal.Copper ? 0.00323 : 0.00330;
        var R8 = Dc.OhmsPer1000Feet(Metal);
        return ((double)R8 * (1 + α * (celsius - 75)) + (double)Excess(R8, raceway)) / MetresPer1000Feet;
    }

    decimal Excess(decimal R8, Raceway raceway)
    {
        var R9 = Ac.Resistance(Metal)!.In(raceway);
        var halfStep = new decimal(5, 0, 0, false, (byte)(R9.Scale + 1));
        return R9 - R8 > halfStep ? R9 - R8 : 0;
    }

    public override double ReactanceOhmsPerMetre(Raceway raceway, double hertz) =>
        (double)Ac.Reactance(raceway) / MetresPer1000Feet * hertz / 60;

    public override double AmpacityAt30Amps(TemperatureRating rating) => Ampacity.Of(Metal)!.Column(rating);
}
