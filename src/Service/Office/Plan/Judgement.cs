using Farberth.Service.Views;

namespace Farberth.Service.Office.Plan;

/// <summary>How the volts and amps shown stand to their limits, as the word for it: "", "low-volts" or "bad".</summary>
public static class Judgement
{
    public static string OfVolts(double volts, BandsShown bands) =>
        volts < bands.LowB || volts > bands.HighB ? "bad" : volts < bands.LowA || volts > bands.HighA ? "low-volts" : "";

    public static string OfOutlet(OutletShown outlet) => outlet.Amps > outlet.Rating ? "bad" : outlet.Room < 0 ? "low-volts" : "";

    public static string OfShare(double? share) => share > 1 ? "bad" : share > 0.9 ? "low-volts" : "";

    /// <summary>The lowest volts of a pedestal, measured where they are fresh, and the leg; null: it has never been heard.</summary>
    public static (double Volts, string Leg)? Lowest(PedestalShown pedestal)
    {
        if (pedestal.Measured.Count == 0)
            return null;
        var volts = pedestal.Fresh ? pedestal.Measured : pedestal.Computed;
        return volts.Count == 0 ? null : volts.Select(leg => (leg.Value, leg.Key)).Min();
    }

    public static (PedestalShown Pedestal, double Volts, string Leg)? Lowest(DockShown dock) => dock.Pedestals
        .Select(pedestal => (pedestal, lowest: Lowest(pedestal))).Where(one => one.lowest is not null)
        .Select(one => ((PedestalShown, double, string)?)(one.pedestal, one.lowest!.Value.Volts, one.lowest.Value.Leg)).MinBy(one => one!.Value.Item2);
}
