using Farberth.Grid.Conductors;
using Farberth.Grid.Network;

namespace Farberth.Grid.Tests.WorkedExamples;

public static class PrintedDropExamples
{
    const double Foot = 0.3048;

    static readonly SupplySystem Wye480 = new("480Y/277 V", 277.13, 60, [0, -120, 120]);
    static readonly SupplySystem SinglePhase480 = new("480 V single-phase", 480, 60, [0]);

    public static IReadOnlyList<PrintedDropExample> All { get; } =
        [.. EffectiveImpedance(), .. OnePercentDistances(), .. InstallationGuide(), .. WiringRegulations()];

    // 65 A at power factor 0.85 over 1000 ft in steel conduit, with R and X of the 2/0 row. The page takes R = 0.1 and
    // 0.16 ohm per 1000 ft; half a step of these, 0.005, is 3 to 5 % and sets the tolerance: 0.005·0.85·I·(2 or √3),
    // rounded up.
    static IEnumerable<PrintedDropExample> EffectiveImpedance()
    {
        const string source = "NEC chapter 9 table 9, note 2, worked at lornmac.com, voltageDropCh9Table9";
        PrintedDropExample Of(
            SupplySystem supply, DropLoading loading, string conductor, double volts, double tolerance) => new(
                $"{conductor} at 65 A, {supply}", supply, loading, 65, 0.85, 1000 * Foot, conductor, Raceway.Steel, 75,
                volts, tolerance, source);
        yield return Of(SinglePhase480, DropLoading.LegToNeutral, "2/0 AWG Cu", 14.755, 0.56);
        yield return Of(Wye480, DropLoading.ThreeLegs, "2/0 AWG Cu", 12.778, 0.48);
        yield return Of(SinglePhase480, DropLoading.LegToNeutral, "2/0 AWG Al", 21.385, 0.56);
        yield return Of(Wye480, DropLoading.ThreeLegs, "2/0 AWG Al", 18.52, 0.48);
    }

    // Printed are the feet at which the drop is 1 %, at 80 % of the 75 °C ampacity and power factor 0.85. Tolerance:
    // one foot (the table seems to cut rather than to round), and half a step of the R of NEC table 9.
    // The copy that was read has lost its column lines; each column was told by its arithmetic over all sizes.
    static IEnumerable<PrintedDropExample> OnePercentDistances()
    {
        const string source =
            "Circuit Design-Data for Copper Conductors, galvanised rigid conduit, 75 °C THWN; scribd.com 244138700";
        PrintedDropExample Of(
            SupplySystem supply, DropLoading loading, double volts,
            string conductor, double amps, double feet, double halfStep)
        {
            var factor = loading == DropLoading.ThreeLegs ? Math.Sqrt(3) : 2;
            var tolerance = volts / feet + factor * amps * 0.85 * halfStep * feet / 1000;
            return new(
                $"{conductor} at {amps} A, {supply}, {feet} ft", supply, loading, amps, 0.85, feet * Foot, conductor,
                Raceway.Steel, 75, volts, tolerance, source);
        }
        PrintedDropExample Three(string conductor, double amps, double feet, double halfStep) =>
            Of(SupplySystem.Wye208, DropLoading.ThreeLegs, 2.08, conductor, amps, feet, halfStep);
        PrintedDropExample Two(string conductor, double amps, double feet, double halfStep) =>
            Of(SupplySystem.SplitPhase120, DropLoading.LegToLeg, 2.40, conductor, amps, feet, halfStep);
        yield return Three("6 AWG Cu", 52, 51, 0.005);
        yield return Three("4 AWG Cu", 68, 60, 0.005);
        yield return Three("4/0 AWG Cu", 184, 81, 0.0005);
        yield return Three("250 kcmil Cu", 204, 80, 0.0005);
        yield return Three("500 kcmil Cu", 304, 80, 0.0005);
        yield return Two("6 AWG Cu", 52, 51, 0.005);
        yield return Two("2 AWG Cu", 92, 65, 0.005);
        yield return Two("4/0 AWG Cu", 184, 81, 0.0005);
        yield return Two("350 kcmil Cu", 248, 81, 0.0005);
    }

    // Printed: 0.59 V/A/km, 4.4 V line to line (2.54 V to neutral), then 19 V/A/km and 7.6 V in the branch. Power
    // factor 1 (lighting). The guide's resistivity of 23.7 ohm·mm²/km is that of copper at about 90 °C. Tolerance: half
    // a step of the two.
    static IEnumerable<PrintedDropExample> InstallationGuide()
    {
        const string source = "Electrical Installation Guide 2018, chapter G, example 2; scribd.com 520873322";
        yield return new("70 mm2 at 150 A", SupplySystem.Wye400, DropLoading.ThreeLegs, 150, 1, 50,
            "70 mm2 Cu", Raceway.None, 90, 4.4, 0.05 + 0.005 * 150 * 0.05, source);
        yield return new("2.5 mm2 at 20 A", SupplySystem.SinglePhase230, DropLoading.LegToNeutral, 20, 1, 20,
            "2.5 mm2 Cu", Raceway.None, 90, 7.6, 0.05 + 0.5 * 20 * 0.02, source);
    }

    // 18 mV/A/m, table 4D2B, at 70 °C. Tolerance: half a step of 18.
    static IEnumerable<PrintedDropExample> WiringRegulations()
    {
        const string source = "BS 7671 table 4D2B, worked in an inspection course; izapp.app, voltage drop calculation";
        yield return new("2.5 mm2 at 16 A", SupplySystem.SinglePhase230, DropLoading.LegToNeutral, 16, 1, 18,
            "2.5 mm2 Cu", Raceway.None, 70, 5.18, 0.5e-3 * 16 * 18, source);
    }
}
