using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Learning;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Advice;

/// <summary>One leg of one outlet: what a boat on it can switch off.</summary>
/// <param name="Amps">Drawn now.</param>
/// <param name="Discretionary">See <see cref="DiscretionaryAmps"/>; worked out only where somebody is to be asked.</param>
sealed record Lever(string Pedestal, OutletDefinition Outlet, Leg Leg, double Amps, Func<double> Discretionary)
{
    /// <summary>Assumed: as long as somebody takes to do as he is asked.</summary>
    static readonly TimeSpan SteadyFor = TimeSpan.FromMinutes(5);

    public OutletKey Key => new(Pedestal, Outlet.Name);

    public string? Slip => Outlet.Slip;

    /// <summary>
    /// What is drawn beyond what is left alone: of the amps now, or of the mean of the last minutes if that is less, since a kettle is over
    /// before anybody has switched it off. To be asked for within the tick.
    /// </summary>
    public double DiscretionaryAmps => Discretionary();

    /// <summary>Every leg of every outlet that is heard; one for an outlet between two legs, whose current is one.</summary>
    public static IReadOnlyList<Lever> Of(DockPicture picture, EssentialBase essential)
    {
        var levers = new List<Lever>(2 * picture.Outlets.Count);
        foreach (var pedestal in picture.Image.Pedestals.Values)
            foreach (var outlet in pedestal.Outlets.Values)
                if (outlet.Latest is { Closed: not false } reading)
                    Add(levers, new(pedestal.Definition.Name, outlet.Definition.Name), outlet, reading, essential);
        return levers;
    }

    static void Add(List<Lever> levers, OutletKey key, OutletImage outlet, OutletReading reading, EssentialBase essential)
    {
        var isBetween = OutletPower.IsBetweenLegs(outlet.Definition);
        foreach (var leg in outlet.Definition.Legs)
        {
            var amps = isBetween ? OutletPower.AmpsBetweenLegs(outlet.Definition, reading) : reading.Amps[leg];
            if (double.IsFinite(amps))
                levers.Add(new(key.Pedestal, outlet.Definition, leg, amps, () =>
                    Math.Max(0, Math.Min(amps, Steady(outlet.Recent.AsSpan(), leg, amps)) - essential.Of(key, leg, amps))));
            if (isBetween)
                return;
        }
    }

    static double Steady(ReadOnlySpan<OutletMoment> recent, Leg leg, double amps)
    {
        var from = recent.Length;
        var since = from == 0 ? default : recent[^1].Time - SteadyFor;
        while (from > 0 && recent[from - 1].Time >= since)
            from--;
        var (sum, count) = (0.0, 0);
        foreach (var moment in recent[from..])
            if (moment.Outlet.Amps[leg] is var drawn && double.IsFinite(drawn))
                (sum, count) = (sum + drawn, count + 1);
        return count == 0 ? amps : sum / count;
    }
}
