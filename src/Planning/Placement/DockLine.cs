namespace Farberth.Planning.Placement;

// About a plan with draws a_p(t), and with J = ∂F/∂a taken there in the hour in which the dock is busiest,
//
//     F(a) ≈ F(a_p(t)) + J·(a − a_p(t)) = F₀(t) + J·a(t),     F₀(t) = F(a_p(t)) − J·a_p(t)
//
// is what the load flow says at that plan in every hour, and near it to some millivolts. About another plan with as many boats it is within 0.03 V
// of the load flow; taken once for all, about half of every rating, it is too good by up to 0.07 V (measured on invented marinas of 50 slips a dock).

/// <summary>What the limits of a dock come to while some boats lie there, as a line through what the load flow says of a plan.</summary>
sealed class DockLine
{
    readonly DockProblem dock;
    readonly List<(Guest Guest, Berth Berth)> about;
    readonly DockSensitivity sensitivity;
    readonly Dictionary<Berth, double[]> effects = [];
    readonly Dictionary<int, double[]> without = [];

    /// <param name="slot">Where J is taken; null: in the dock's busiest hour.</param>
    public DockLine(DockProblem dock, Plan about, int? slot = null)
    {
        (this.dock, this.about) = (dock, [.. about.On(dock)]);
        sensitivity = new(dock.Case, dock.Draws(slot ?? dock.BusiestSlot(this.about), this.about));
    }

    /// <summary>J: what one ampere on each contact of a berth does to every limit.</summary>
    public double[] Effect(Berth berth)
    {
        if (!effects.TryGetValue(berth, out var effect))
            effects[berth] = effect = sensitivity.Of(berth);
        return effect;
    }

    /// <summary>F₀: every limit in an hour as the line has it with no guest at all.</summary>
    public double[] Without(int slot)
    {
        if (without.TryGetValue(slot, out var known))
            return known;
        var values = dock.Flow(slot, about).Values.ToArray();
        foreach (var (guest, berth) in about.Where(pair => pair.Guest.Amps[slot] > 0))
            for (var (at, effect) = (0, Effect(berth)); at < values.Length; at++)
                values[at] -= effect[at] * guest.Amps[slot];
        return without[slot] = values;
    }
}
