using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// Learns how far each voltmeter of one dock is off, from what it reads beside what all the others say of its volts. A
/// reading counts once.
/// </summary>
sealed class GainLearner
{
    /// <summary>Fewer others and nobody can tell which of them is off (assumed).</summary>
    const int LeastOthers = 3;

    /// <summary>Beyond this share it is no gain but another fault (assumed).</summary>
    const double LargestShare = 0.05;

    readonly Dictionary<MeterKey, GainFit> fits = [];
    readonly Dictionary<string, DateTimeOffset> taken = [];
    DateTimeOffset? last;

    public IReadOnlyDictionary<MeterKey, LearnedGain> Gains => fits.ToDictionary(pair => pair.Key, pair => pair.Value.Gain);

    public void Tick(DockImage image, DockEstimate estimate)
    {
        var elapsed = image.Now > last ? image.Now - last.Value : TimeSpan.Zero;
        last = image.Now;
        foreach (var fit in fits.Values)
            fit.Wait(elapsed);
        var (pedestal, isNew) = ("", false);
        foreach (var meter in estimate.Meters)
        {
            if (meter.Pedestal != pedestal)
                (pedestal, isNew) = (meter.Pedestal, IsNew(image.Pedestals[meter.Pedestal]));
            if (isNew)
                Take(meter);
        }
    }

    /// <summary>Asked once of each reading.</summary>
    bool IsNew(PedestalImage pedestal)
    {
        var (name, time) = (pedestal.Definition.Name, pedestal.Latest!.Time);
        if (taken.TryGetValue(name, out var last) && last == time)
            return false;
        taken[name] = time;
        return true;
    }

    void Take(MeterCheck meter)
    {
        var share = meter.ReadVolts / meter.OthersVolts - 1;
        if (meter.Others < LeastOthers || !(Math.Abs(share) < LargestShare))
            return;
        var key = new MeterKey(meter.Pedestal, meter.Leg);
        if (!fits.TryGetValue(key, out var fit))
            fits[key] = fit = new();
        fit.Add(share, meter.OthersSd / meter.OthersVolts);
    }

    public GainLearnerMemory Memory() => new(
        last, taken.ToDictionary(), [.. fits.Select(pair => new MeterFitMemory(pair.Key, pair.Value.Memory()))]);

    public void Resume(GainLearnerMemory memory)
    {
        last = memory.Last;
        foreach (var (pedestal, time) in memory.Taken)
            taken[pedestal] = time;
        foreach (var meter in memory.Fits)
            (fits[meter.Meter] = new()).Resume(meter.Fit);
    }
}

/// <param name="Taken">Time of the newest reading that counted, by pedestal.</param>
sealed record GainLearnerMemory(
    DateTimeOffset? Last, IReadOnlyDictionary<string, DateTimeOffset> Taken, IReadOnlyList<MeterFitMemory> Fits);

sealed record MeterFitMemory(MeterKey Meter, GainFitMemory Fit);
