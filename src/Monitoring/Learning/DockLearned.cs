using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Learning;

/// <summary>What a dock's own past has taught so far, frozen.</summary>
/// <param name="Joints">Every conductor that has clearly more ohms than it should, however little it heats.</param>
/// <param name="Responses">By outlet; those that have not yet been heard are not in it.</param>
public sealed record DockLearned(
    IReadOnlyList<CableJoint> Joints, IReadOnlyDictionary<OutletKey, LearnedResponse> Responses)
{
    public static readonly DockLearned Nothing = new([], new Dictionary<OutletKey, LearnedResponse>());

    /// <summary>By voltmeter; those that have not yet been compared with others are not in it.</summary>
    public IReadOnlyDictionary<MeterKey, LearnedGain> Gains
    {
        get;
        init => (field, BeyondClass) = (value, value.Where(one => one.Value.IsBeyondClass).ToDictionary());
    } = new Dictionary<MeterKey, LearnedGain>();

    /// <summary>Of <see cref="Gains"/>, those outside of their class: nearly always none, and asked for at every tick.</summary>
    public IReadOnlyDictionary<MeterKey, LearnedGain> BeyondClass { get; private init; } = new Dictionary<MeterKey, LearnedGain>();

    /// <summary>As learned; the site's assumption where nothing has been heard yet.</summary>
    public LearnedResponse ResponseOf(OutletKey outlet, SiteLimits limits) =>
        Responses.TryGetValue(outlet, out var known) ? known : new(limits.LoadResponse, ResponseLearner.AssumedSd);
}

/// <summary>A bad joint in a cable, or in one of some cables that these meters cannot tell apart.</summary>
/// <param name="Inner">The inner end of the innermost of <paramref name="Cables"/>.</param>
/// <param name="Outer">The outer end of the outermost.</param>
/// <param name="Cables">By outer end, the outermost first.</param>
/// <param name="ExcessOhms">More than the site file and an ordinary joint account for.</param>
/// <param name="WattsNow">Heat in the joint with the amps of the last minute.</param>
/// <param name="WattsWorst">Mean over the worst hour of the last seven days.</param>
/// <param name="Since">Since when the readings show it.</param>
/// <param name="OrElse">Conductors that explain the readings nearly as well.</param>
public sealed record CableJoint(
    string Inner, string Outer, IReadOnlyList<string> Cables, Leg Conductor, double ExcessOhms, double ExcessOhmsSd,
    double WattsNow, double WattsWorst, DateTimeOffset Since, IReadOnlyList<Leg> OrElse)
{
    /// <summary>It was there in all that is remembered: <see cref="Since"/> is when the watch began, or three days ago.</summary>
    public bool IsOlder { get; init; }

    /// <summary>One standard deviation of <see cref="WattsNow"/>: of the ohms and of the amps.</summary>
    public double WattsNowSd { get; init; }

    /// <summary>One standard deviation of <see cref="WattsWorst"/>.</summary>
    public double WattsWorstSd { get; init; }
}

public readonly record struct OutletKey(string Pedestal, string Outlet)
{
    /// <summary>Names of a site file are few, short and trusted: no need for a hash that nobody can foresee.</summary>
    public override int GetHashCode()
    {
        var hash = 0;
        foreach (var letter in Pedestal)
            hash = unchecked(31 * hash + letter);
        foreach (var letter in Outlet)
            hash = unchecked(31 * hash + letter);
        return hash;
    }
}

/// <summary>How an outlet's amps go with its volts, I ∝ V^n.</summary>
/// <param name="Exponent">n: +1 resistive, 0 constant current, −1 constant power.</param>
/// <param name="Sd">One standard deviation of it.</param>
public readonly record struct LearnedResponse(double Exponent, double Sd);
