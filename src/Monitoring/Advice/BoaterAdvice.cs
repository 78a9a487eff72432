using Farberth.Grid.Network;
using Farberth.Monitoring.Learning;

namespace Farberth.Monitoring.Advice;

/// <summary>What a boater can be asked to do; on the wire the same words in lower case with hyphens. The lowest comes first for a slip.</summary>
public enum Ask
{
    /// <summary>A hazard: loads off, then the cord.</summary>
    Unplug,

    /// <summary>Shore power is gone; an inverter may be emptying the batteries.</summary>
    ShoreLost,

    /// <summary>One outlet carries what two are there for.</summary>
    SecondCord,

    /// <summary>Switch something off.</summary>
    Shed,

    /// <summary>Energised, but nothing is drawn.</summary>
    CheckBreaker,
}

public static class Asks
{
    public static string Word(this Ask ask) => ask switch
    {
        Ask.Unplug => "unplug",
        Ask.ShoreLost => "shore-lost",
        Ask.SecondCord => "second-cord",
        Ask.Shed => "shed",
        _ => "check-breaker",
    };
}

/// <summary>One thing asked of one slip.</summary>
/// <param name="Time">When it was asked, or asked again.</param>
/// <param name="Amps">To switch off or to move; of a hazard what is drawn now; 0 where nothing is drawn.</param>
/// <param name="Message">For the boater, plain and whole.</param>
/// <param name="Until">Then it is asked again or taken back.</param>
/// <param name="Why">The limit or the alarm behind it.</param>
public sealed record BoaterAdvice(
    DateTimeOffset Time, string Slip, Ask Ask, double Amps, string Message, DateTimeOffset Until, string Why)
{
    /// <summary>What is to come down; none where nothing is to be switched off for the dock's sake.</summary>
    public IReadOnlyList<AskedLeg> Legs { get; init; } = [];
}

/// <summary>One leg of an outlet that is to come down.</summary>
/// <param name="Amps">To switch off; below 0 where a second cord brings them.</param>
/// <param name="BeforeAmps">Drawn when it was asked.</param>
public sealed record AskedLeg(OutletKey Outlet, Leg Leg, double Amps, double BeforeAmps);

/// <summary>Something was asked, asked again or taken back.</summary>
/// <param name="TakenBack">Why nothing is asked of the slip any more; null: <paramref name="Advice"/> stands.</param>
public sealed record AdviceChange(DateTimeOffset At, BoaterAdvice Advice, string? TakenBack)
{
    public string Slip => Advice.Slip;
}

/// <summary>A limit that requests cannot bring back: the boats of this dock have not enough to switch off.</summary>
/// <param name="Limit">In words.</param>
/// <param name="Share">How far past it the dock stays, as a share of the limit, when all that is asked is done.</param>
public sealed record Shortfall(string Limit, double Share);

/// <summary>What one tick of one dock gave its boaters.</summary>
/// <param name="Standing">All that is asked now, by slip.</param>
/// <param name="NotEnough">What the harbormaster must see to by other means.</param>
public sealed record DockAdvice(
    IReadOnlyList<AdviceChange> Changes, IReadOnlyList<BoaterAdvice> Standing, IReadOnlyList<Shortfall> NotEnough)
{
    public static readonly DockAdvice Nothing = new([], [], []);
}
