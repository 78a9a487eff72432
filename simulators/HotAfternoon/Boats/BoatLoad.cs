namespace Farberth.HotAfternoon;

/// <summary>What a boat's loads feel during one step.</summary>
/// <param name="Seconds">Length of the step.</param>
/// <param name="Hour">Local hour of the day, 0 to 24.</param>
/// <param name="Aboard">Somebody is there to switch, cook and wash.</param>
/// <param name="Volts">At the load, as a share of its nominal volts; 0 without supply.</param>
public readonly record struct Moment(double Seconds, double Hour, Sky Sky, bool Aboard, double Volts)
{
    public bool Energised => Volts > 0;
}

/// <summary>One appliance with its state. A step moves it on and says what it asks for meanwhile.</summary>
public abstract class BoatLoad
{
    public abstract Demand Step(Moment moment);

    /// <summary>Its people can do without it for a while when they are asked to.</summary>
    public virtual bool CanWait => false;
}

/// <summary>One appliance as the scenario file describes it.</summary>
/// <param name="On">The outlet and legs that feed it, and its switch.</param>
public abstract record LoadPlan(Feed On)
{
    /// <summary>The appliance at the start of the scenario.</summary>
    /// <param name="random">The appliance's own random numbers.</param>
    public abstract BoatLoad Start(NamedRandom random);
}
