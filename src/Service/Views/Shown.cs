using System.Text.Json.Serialization;
using Farberth.Monitoring.Words;

namespace Farberth.Service.Views;

// What GET /api/view gives, by its names in lower case with hyphens. Amps and volts are RMS; volts leg to neutral.
// A map is keyed by leg: L1, L2, L3, and N for the neutral where there is one.

/// <param name="Now">Null before the first tick.</param>
/// <param name="Local">The same at the marina, for people.</param>
/// <param name="Alarms">All that are not normal, the most pressing first.</param>
/// <param name="Changes">The latest alarm transitions, the newest first.</param>
/// <param name="Refused">Messages, or parts of one, that were not taken.</param>
public sealed record SiteShown(
    string Site, string Supply, DateTimeOffset? Now, string Local, double NominalVolts, BandsShown Bands, BrokerShown Broker, long Refused,
    IReadOnlyList<DockShown> Docks, IReadOnlyList<AlarmShown> Alarms, IReadOnlyList<ChangeShown> Changes, string Caution)
{
    public RatesShown? Rates { get; init; }

    public StoreShown? Store { get; init; }
}

/// <summary>Whether what arrives is kept.</summary>
/// <param name="Problem">What the disk says while it takes nothing; empty while all is well.</param>
/// <param name="Held">Messages taken that are not on disk yet.</param>
/// <param name="Bytes">Of the intake log.</param>
/// <param name="Unread">Bytes of it that are not yet where they are going, such as the history.</param>
/// <param name="Lost">Messages that went because the log reached its bound.</param>
public sealed record StoreShown(string Problem, DateTimeOffset? Since, int Held, long Bytes, long Unread, long Lost);

/// <summary>How many alarms people get, beside what is held good for one operator.</summary>
/// <param name="Line">The same in one sentence for people.</param>
/// <param name="Flood">New alarms below high priority are being held back from somebody.</param>
/// <param name="TopShare">Share of all alarms that the ten most frequent make.</param>
public sealed record RatesShown(
    string Line, bool Flood, IReadOnlyList<LoadShown> Loads, int Raised, Dictionary<string, int> Priorities, Dictionary<string, int> Kinds,
    Dictionary<string, int> Top, double TopShare, int Chattering, int Stale);

/// <param name="PerTenMinutes">Alarms in 10 minutes, on average since the start.</param>
/// <param name="FloodShare">Share of the periods of 10 minutes with more than 10.</param>
public sealed record LoadShown(
    string For, int InTenMinutes, int InHour, int InDay, double PerTenMinutes, double FloodShare, int Busiest);

public sealed record BandsShown(double LowA, double LowB, double HighA, double HighB);

/// <param name="State">connecting, connected, waiting, refused or closed.</param>
/// <param name="ToPublish">Messages that wait for the broker.</param>
public sealed record BrokerShown(
    string State, string Reason, long Received, long Published, long Overruns, long Lost, int ToPublish);

/// <param name="Whole">Every pedestal has been heard or given up on; nothing is judged before.</param>
/// <param name="Flow">How the load flow ended.</param>
/// <param name="TransformerLoad">Share of the rating; null without a transformer.</param>
/// <param name="Pedestals">The nearest to the source first.</param>
/// <param name="Cables">The most loaded first.</param>
/// <param name="Outlets">The nearest to its limit first.</param>
/// <param name="Asked">What is asked of slips now, the newest first.</param>
/// <param name="NotEnough">Limits that no request can bring back.</param>
/// <param name="Free">Outlets of slips where no boat is known or likely to be, with volts inside band A; the most room first.</param>
public sealed record DockShown(
    string Name, bool Whole, string Flow, Dictionary<string, double> SourceVolts, Dictionary<string, double> SourceAmps,
    double Kva, double? TransformerLoad, double? FeederBreaker, double RacewayCelsius,
    IReadOnlyList<PedestalShown> Pedestals, IReadOnlyList<CableShown> Cables,
    IReadOnlyList<OutletShown> Outlets, IReadOnlyList<OutletShown> Free, IReadOnlyList<AdviceShown> Asked, IReadOnlyList<string> NotEnough)
{
    /// <summary>Conductors that have more ohms than they should, the hottest first.</summary>
    public IReadOnlyList<JointShown> Joints { get; init; } = [];

    /// <summary>Meters in doubt.</summary>
    public IReadOnlyList<MeterShown> Meters { get; init; } = [];

    /// <summary>The next 24 hours; empty before the first quarter-hour has ended.</summary>
    public IReadOnlyList<AheadShown> Ahead { get; init; } = [];

    public SagShown? Sag { get; init; }

    public TransformerShown? Transformer { get; init; }

    /// <summary>Pedestals of which the meters do not determine the volts or the amps.</summary>
    public IReadOnlyList<string> Unobserved { get; init; } = [];
}

/// <param name="WattsWorst">Mean over the worst hour of the last seven days.</param>
/// <param name="OrElse">Conductors that explain the readings nearly as well.</param>
public sealed record JointShown(
    string From, string To, string Conductor, double Milliohms, double MilliohmsSd, double WattsNow, double WattsWorst, DateTimeOffset Since,
    IReadOnlyList<string> OrElse);

/// <param name="Percent">How much too much it shows; null: it is its present reading that does not fit.</param>
public sealed record MeterShown(string Pedestal, string Leg, double? Percent, double? PercentSd);

/// <summary>A quarter-hour to come: where the volts will most likely be lowest, and between what.</summary>
/// <param name="Low">9 times of 10 the volts are above this and below <paramref name="High"/>.</param>
public sealed record AheadShown(DateTimeOffset Until, int MinutesAhead, string Pedestal, string Leg, double Low, double Volts, double High, double Kva);

/// <param name="BelowA">Chance that the lowest volts leave band A by day.</param>
/// <param name="Worst">When that is most likely; null by night.</param>
public sealed record SagShown(double BelowA, double BelowB, AheadShown? Worst);

/// <param name="Ageing">1: its normal life.</param>
public sealed record TransformerShown(double HotSpotCelsius, double SettlesAtCelsius, double Ageing);

/// <param name="Before">The next pedestal towards the source, or "source".</param>
/// <param name="Run">0 for the run of pedestals that leads furthest, then what branches off.</param>
/// <param name="Metres">Along the cables from the source.</param>
/// <param name="Fresh">The measured volts are new enough to be believed.</param>
/// <param name="SilentSeconds">Since its newest reading arrived.</param>
/// <param name="Measured">Empty before the first reading.</param>
public sealed record PedestalShown(
    string Name, string Before, int Run, double Metres, bool Fresh, double SilentSeconds, Dictionary<string, double> Measured,
    Dictionary<string, double> Computed, Dictionary<string, double> Sd, Dictionary<string, double> Amps);

/// <param name="Load">Highest share of the ampacity in any conductor.</param>
public sealed record CableShown(
    string From, string To, string Conductor, double Metres, double Load, double Ampacity, double Celsius,
    Dictionary<string, double> Amps, Dictionary<string, double> Drop);

/// <param name="Leg">The one that carries most.</param>
/// <param name="Limit">Amps it may carry for hours.</param>
/// <param name="Room">Amps left below the limit; below 0 when it is passed.</param>
/// <param name="SagAmps">The part of the amps that is there because volts are missing.</param>
/// <param name="AmpsOneVoltLower">What the amps become if the dock sags by another volt.</param>
public sealed record OutletShown(
    string Pedestal, string Outlet, string? Slip, string Leg, double Rating, double Amps, double Limit, double Room,
    double Volts, double SagAmps, double AmpsOneVoltLower, bool Fresh);

public sealed record AlarmShown(
    string Id, string Kind, string State, string Priority, DateTimeOffset Since, string SinceLocal, string Dock,
    string? Cable, string? Pedestal, string? Outlet, string? Slip, IReadOnlyList<string> For, string Message)
{
    /// <summary>The message, sentence by sentence, for readers of another language.</summary>
    [JsonIgnore]
    public IReadOnlyList<Sentence> Said { get; init; } = [];

    /// <summary>Who has put it aside, why, and until when.</summary>
    public string? SetAside { get; init; }

    /// <summary>The same for readers of another language.</summary>
    [JsonIgnore]
    public Sentence? Aside { get; init; }

    /// <summary>The alarm whose consequence it is.</summary>
    public string? SuppressedBy { get; init; }

    /// <summary>The first alarm of its burst.</summary>
    public string? FirstUp { get; init; }

    public bool HeldBack { get; init; }

    /// <summary>How often it came within an hour, where that is too often.</summary>
    public int Chattering { get; init; }

    public string? Caution { get; init; }
}

/// <param name="Ask">shed, second-cord, unplug, check-breaker or shore-lost.</param>
public sealed record AdviceShown(string Slip, string Ask, double Amps, string SinceLocal, string UntilLocal, string Message, string Why);

public sealed record ChangeShown(string Local, string Id, string Kind, string From, string To, string Reason)
{
    /// <summary>The reason for readers of another language.</summary>
    [JsonIgnore]
    public Sentence? Why { get; init; }
}

/// <param name="Excerpt">The first bytes of the payload as text; what is not text stands as U+FFFD.</param>
public sealed record RefusalShown(string Reason, long Count, DateTimeOffset LastAt, string Topic, string Detail, string Excerpt);
