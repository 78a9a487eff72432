using Farberth.Monitoring.Estimate;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Learning;

/// <summary>
/// What one dock remembers over hours and days, fed at each tick. Deterministic; a tick only sums, a full minute solves.
/// </summary>
public sealed class DockLearning(SiteDefinition site, DockDefinition dock)
{
    /// <summary>Assumed: a boat's habits change within some days.</summary>
    static readonly TimeSpan ResponseFor = TimeSpan.FromDays(5);

    static readonly double FadeEachMinute = Math.Exp(-TimeSpan.FromMinutes(1) / ResponseFor);

    readonly JointLearner joints = new(site, dock);
    readonly Dictionary<string, ResponseLearner> responses = ResponseLearner.Of(site, dock);
    readonly GainLearner gains = new();

    /// <summary>As of the last full minute.</summary>
    public DockLearned Learned { get; private set; } = DockLearned.Nothing;

    /// <param name="image">Not older than the last.</param>
    public DockLearned Tick(DockImage image, DockEstimate estimate)
    {
        foreach (var (name, learner) in responses)
            learner.Tick(image.Pedestals[name]);
        gains.Tick(image, estimate);
        if (!joints.Tick(image, estimate))
            return Learned;
        foreach (var (name, learner) in responses)
            learner.Fade(image.Pedestals[name], image.Now, FadeEachMinute);
        return Learned = new(joints.Joints, (
            from pedestal in dock.Pedestals.Values
            from outlet in pedestal.Outlets.Keys
            select new OutletKey(pedestal.Name, outlet)).ToDictionary(key => key, key => responses[key.Pedestal][key.Outlet]))
        {
            Gains = gains.Gains,
        };
    }

    internal LearningMemory Memory() => new(
        joints.Memory(), gains.Memory(), responses.ToDictionary(pair => pair.Key, pair => pair.Value.Memory()),
        [.. Learned.Responses.Select(pair => new OutletResponse(pair.Key, pair.Value))],
        [.. Learned.Gains.Select(pair => new MeterGain(pair.Key, pair.Value))]);

    internal void Resume(LearningMemory memory)
    {
        if (memory.Joints is { } itsJoints)
            joints.Resume(itsJoints);
        if (memory.Gains is { } itsGains)
            gains.Resume(itsGains);
        foreach (var (pedestal, learner) in memory.Responses)
            responses[pedestal].Resume(learner);
        Learned = new(joints.Joints, memory.LearnedResponses.ToDictionary(one => one.Outlet, one => one.Response))
        {
            Gains = memory.LearnedGains.ToDictionary(one => one.Meter, one => one.Gain),
        };
    }
}

/// <param name="Joints">Null where the dock is another one now; so are the gains.</param>
/// <param name="LearnedResponses">As of the last full minute, like the joints and gains.</param>
sealed record LearningMemory(
    JointLearnerMemory? Joints, GainLearnerMemory? Gains, IReadOnlyDictionary<string, ResponseLearnerMemory> Responses,
    IReadOnlyList<OutletResponse> LearnedResponses, IReadOnlyList<MeterGain> LearnedGains);

sealed record OutletResponse(OutletKey Outlet, LearnedResponse Response);

sealed record MeterGain(MeterKey Meter, LearnedGain Gain);
