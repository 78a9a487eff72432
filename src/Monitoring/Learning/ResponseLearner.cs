using Farberth.Grid.Estimation;
using Farberth.Grid.Network;
using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// Learns how one pedestal's outlets answer to the volts, from steps between two readings that others have caused. What
/// the outlet's own amps did to the volts is added back: ΔV' = ΔV + R·ΔI, with R the loop resistance from the source; else an
/// appliance that switches on and lowers its own volts would look like constant power.
/// </summary>
sealed class ResponseLearner
{
    /// <summary>A smaller step drowns in the meter's noise and rounding.</summary>
    const double LeastStepVolts = 0.5;

    /// <summary>A larger change of its own amps is its own switching.</summary>
    const double OwnChangeShare = 0.1;

    const double LeastAmps = 2;

    /// <summary>Assumed: noise and rounding to tenths, of the difference of two readings.</summary>
    const double AmpsNoise = 0.08;

    /// <summary>Assumed: an outlet is somewhere between a heater and a motor.</summary>
    public const double AssumedSd = 0.5;

    /// <summary>Assumed: what runs in the next hour is another mix of heaters and motors than what was learned from.</summary>
    const double MixSd = 0.1;

    static readonly TimeSpan LongestPause = TimeSpan.FromSeconds(45);

    /// <summary>Assumed: after such a pause another boat may lie there.</summary>
    static readonly TimeSpan ForgottenAfter = TimeSpan.FromHours(12);

    readonly SiteDefinition site;
    readonly double loopOhms;
    readonly Dictionary<string, LoadResponseFit> fits;
    Reading? before;

    /// <param name="loopOhms">From the source and back, one leg.</param>
    public ResponseLearner(SiteDefinition site, PedestalDefinition pedestal, double loopOhms)
    {
        (this.site, this.loopOhms) = (site, loopOhms);
        fits = pedestal.Outlets.Keys.ToDictionary(name => name, _ => Fresh());
    }

    public LearnedResponse this[string outlet] => new(
        fits[outlet].Response,
        Math.Min(AssumedSd, Math.Sqrt(fits[outlet].ResponseSd * fits[outlet].ResponseSd + MixSd * MixSd)));

    /// <summary>One for each pedestal, with its resistance from the source at 50 °C.</summary>
    public static Dictionary<string, ResponseLearner> Of(SiteDefinition site, DockDefinition dock)
    {
        var feeder = DockFeeder.Build(site, dock, DockFeeder.Equal(site.Supply, site.Supply.NominalVolts), _ => (50, 50));
        return dock.Pedestals.Values.ToDictionary(pedestal => pedestal.Name, pedestal => new ResponseLearner(
            site, pedestal, feeder.PathTo(pedestal.Name).Sum(branch => branch.Impedance.Loop(Leg.L1, Leg.L1).Real)));
    }

    public void Tick(PedestalImage pedestal)
    {
        if (pedestal.Latest is not { } reading || ReferenceEquals(reading, before))
            return;
        if (before is { } last && reading.Time - last.Time <= LongestPause)
            foreach (var (name, outlet) in reading.Outlets)
                if (last.Outlets.TryGetValue(name, out var earlier))
                    Compare(fits[name], last.Volts, earlier.Amps, reading.Volts, outlet.Amps);
        before = reading;
    }

    /// <summary>Fades, and forgets outlets from which nobody has drawn for long.</summary>
    public void Fade(PedestalImage pedestal, DateTimeOffset now, double share)
    {
        foreach (var (name, outlet) in pedestal.Outlets)
            if (outlet.BoatPresent == false || now - outlet.LastDrew > ForgottenAfter)
                fits[name] = Fresh();
            else
                fits[name].Fade(share);
    }

    LoadResponseFit Fresh() => new(site.Limits.LoadResponse, AssumedSd);

    void Compare(LoadResponseFit fit, PerLeg volts1, PerLeg amps1, PerLeg volts2, PerLeg amps2)
    {
        foreach (var leg in site.Supply.Legs)
        {
            var ampsStep = Math.Log(amps2[leg] / amps1[leg]);
            var outside = volts2[leg] + loopOhms * (amps2[leg] - amps1[leg]);
            var isStep = Math.Abs(outside - volts1[leg]) >= LeastStepVolts && Math.Abs(ampsStep) < OwnChangeShare;
            if (isStep && amps1[leg] >= LeastAmps && volts1[leg] > site.Supply.NominalVolts / 2)
                fit.Add(Math.Log(outside / volts1[leg]), ampsStep, AmpsNoise / amps1[leg]);
        }
    }

    public ResponseLearnerMemory Memory() => new(before, fits.ToDictionary(pair => pair.Key, pair => pair.Value.Memory()));

    public void Resume(ResponseLearnerMemory memory)
    {
        before = memory.Before;
        foreach (var (outlet, fit) in memory.Fits)
            fits[outlet].Resume(fit);
    }
}

/// <param name="Before">The reading with which the next is compared.</param>
/// <param name="Fits">By outlet.</param>
sealed record ResponseLearnerMemory(Reading? Before, IReadOnlyDictionary<string, LoadResponseMemory> Fits);
