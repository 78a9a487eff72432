using Farberth.Grid.LoadFlow;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Estimate;

/// <summary>
/// What the measured volts say of the source. The amps fix every drop; what is left over on a leg is common to all
/// its pedestals: the supply ahead of the transformer stands higher or lower than the site file says. The median of
/// measured − computed is that shift, and the spread of the differences about it is how far one pedestal's volts may be off:
///   shift = median_i(d_i),   sd = 1.4826·median_i|d_i − shift|   (the factor makes it a standard deviation for a normal spread).
/// </summary>
static class SourceVolts
{
    const double LeastSdVolts = 0.05; // half a step of a meter that shows tenths

    public static (double ShiftVolts, double SdVolts) Shift(DockImage image, LoadFlowState state, Leg leg)
    {
        var differences = image.Pedestals.Values
            .Where(pedestal => pedestal.IsFresh && pedestal.Latest!.Volts[leg] > state.Feeder.Supply.NominalVolts / 2)
            .Select(pedestal => pedestal.Latest!.Volts[leg] - state.VoltsAt(pedestal.Definition.Name, leg).Magnitude)
            .ToList();
        if (differences.Count == 0)
            return (0, 0.03 * state.Feeder.Supply.NominalVolts); // nothing measured: the site file's no-load volts, a guess
        var shift = Median(differences);
        var spread = Median([.. differences.Select(d => Math.Abs(d - shift))]);
        return (shift, Math.Max(LeastSdVolts, 1.4826 * spread));
    }

    static double Median(List<double> values)
    {
        values.Sort();
        var half = values.Count / 2;
        return values.Count % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
    }
}
