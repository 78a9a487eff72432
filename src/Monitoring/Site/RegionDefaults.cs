using Farberth.Grid.Network;
using Farberth.Grid.Protection;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Site;

/// <summary>
/// What a site file leaves out, by region: the one place for it. "confirmed" means a copy of the source was read;
/// "from memory" means that nobody here has opened the source, so check it before relying on it; "assumed" is our own choice.
/// Each value can be set in the site file, and local codes and licensed people decide.
/// </summary>
public static class RegionDefaults
{
    static readonly SiteLimits NorthAmerica = new(
        // NEC 210.20(A) and 215.3: a breaker of 125 % of the continuous load, so 80 % of its rating (from memory).
        ContinuousShare: 0.80,
        // ANSI C84.1 on a 120 V base, utilization volts, range A 108 to 126 and B 104 to 127 (cells from memory;
        // confirmed in a secondary source only: +6 % and -13 % as the ends of range B, which are 127 and 104).
        Volts: new(LowA: 108, LowB: 104, HighA: 126, HighB: 127),
        LegImbalanceShare: Everywhere.LegImbalanceShare,
        RacewayCelsius: Everywhere.RacewayCelsius,
        SunRiseKelvin: Everywhere.SunRiseKelvin,
        PowerFactor: Everywhere.PowerFactor,
        DrawingAmps: Everywhere.DrawingAmps,
        LoadResponse: Everywhere.LoadResponse,
        // NEC 555.35 (2020 and 2023): 30 mA at a shore-power receptacle, 100 mA at a feeder (from memory).
        Leakage: new(OutletMilliamps: 30, FeederMilliamps: 100),
        // UL 498: contacts rise by no more than 30 K at rated amps (from memory). Receptacle terminals and the wire on them are
        // good for 75 °C (NEC 110.14(C), from memory); cord jackets of PVC soften from 75 °C on (from memory).
        Contacts: new(LimitCelsius: 75, RiseKelvin: 30, Everywhere.PedestalSunRiseKelvin))
    {
        // Molded-case breakers in marina pedestals are listed to UL 489 (common practice).
        Breaker = BreakerFamily.Ul489,
    };

    static readonly SiteLimits Europe = NorthAmerica with
    {
        // Common practice, without a source: outlets that run for hours are kept to about 80 %.
        ContinuousShare = 0.80,
        // EN 50160: 95 % of the 10-minute means of a week within 230 V ±10 %, all within +10/-15 % (confirmed in a
        // secondary source); IEC 60038 gives the same ±10 % (confirmed in two).
        Volts = new(LowA: 207, LowB: 195.5, HighA: 253, HighB: 253),
        // IEC 60364-7-709: a residual-current device of 30 mA for each socket (from memory); the feeder's figure is assumed.
        Leakage = new(OutletMilliamps: 30, FeederMilliamps: 100),
        // IEC 60309-1: 50 K at a test current of about 1.33 times the rating (22 A for 16 A, from memory), so about 30 K at the rating;
        // 90 °C is these 50 K above the 40 °C of air that the standard allows (from memory).
        Contacts = new(LimitCelsius: 90, RiseKelvin: 30, Everywhere.PedestalSunRiseKelvin),
        // Type C for loads with motors (common practice).
        Breaker = BreakerFamily.Iec60898C,
    };

    /// <summary>
    /// When alarms come and go. Delays follow what heats or trips: a breaker's thermal element takes minutes (order of
    /// magnitude from memory), a buried cable longer, a transformer's windings and oil longer still. Clearing takes longer
    /// than a compressor's pause where that pause would make an alarm flicker. Deadbands are several times a meter's noise,
    /// taken as 0.5 % for amps and 0.1 % for volts. All assumed; no standard gives figures for volts and amps.
    /// </summary>
    public static IReadOnlyDictionary<AlarmKind, AlarmTiming> AlarmTimings { get; } = new Dictionary<AlarmKind, AlarmTiming>
    {
        // A start or a kettle is over in 2 min; a breaker at 135 % holds for longer than that. A thermostat's pause is
        // shorter than 10 min: through it the alarm stands, or a hot afternoon would raise it anew with every cycle.
        [AlarmKind.Overload] = Timing(120, 600, 0.03),
        // A motor start is over in seconds; a minute is a sag. 0.5 % of 120 V is 0.6 V, six times the noise.
        [AlarmKind.Undervoltage] = Timing(60, 300, 0.005),
        [AlarmKind.Overvoltage] = Timing(60, 300, 0.005),
        // Long enough for one reading to be late, short enough for a freezer.
        [AlarmKind.SupplyLost] = Timing(10, 30, 0),
        // A thermostat's or a charger's pause is shorter than 20 min.
        [AlarmKind.NoDraw] = Timing(20 * 60, 60, 0),
        // The time constant of a feeder cable in a raceway is tens of minutes.
        [AlarmKind.CableOverload] = Timing(10 * 60, 5 * 60, 0.03),
        // Oil takes hours, a dry winding tens of minutes; 15 min is also the averaging time of NEC 220.87 (confirmed).
        [AlarmKind.TransformerOverload] = Timing(15 * 60, 10 * 60, 0.03),
        // Nothing trips by imbalance alone; loads come and go, so only what lasts is worth a message.
        [AlarmKind.LegImbalance] = Timing(15 * 60, 10 * 60, 0.05),
        // Pedestals send at least twice a minute; three missed are silence, and the first reading ends it.
        [AlarmKind.MeterSilent] = Timing(90, 0, 0),
        // It destroys boats in seconds, so nothing is waited for. A moment of balanced legs hides it: it stays for 10 min.
        [AlarmKind.OpenNeutral] = Timing(0, 10 * 60, 0.10),
        // The rule itself asks for two readings. A protector's pause is a few minutes (assumed): longer than that is over.
        [AlarmKind.StalledMotor] = Timing(0, 5 * 60, 0),
        // A ground-fault breaker acts in a fraction of a second; 10 s leave out a motor's start (assumed).
        [AlarmKind.Leakage] = Timing(10, 10 * 60, 0.10),
        // Readings of one moment are not of one instant: a boat that switches makes one late meter doubtful for a while.
        [AlarmKind.MeterDoubtful] = Timing(5 * 60, 10 * 60, 0),
        // It is learned from hours; what stands for another hour is no chance. The amps of a week come and go.
        [AlarmKind.ResistiveJoint] = Timing(60 * 60, 60 * 60, 0.2),
        // The contacts' own memory is minutes long already; 5 % of 75 °C is about 4 K, twice a sensor's error.
        [AlarmKind.ConnectorHeating] = Timing(2 * 60, 15 * 60, 0.05),
        // A forecast is made each 15 min: two must agree. It goes when the chance is under 35 %, for an hour.
        [AlarmKind.SagForecast] = Timing(15 * 60, 60 * 60, 0.3),
    }.AsReadOnly();

    /// <summary>
    /// How boaters are asked. Half an hour: nobody wants to be told more often (assumed). Ten minutes: somebody aboard has read it and
    /// walked to the panel (assumed).
    /// </summary>
    public static AdviceSettings Advice { get; } = new(TimeSpan.FromMinutes(30), TimeSpan.FromMinutes(10), LowVolts: null);

    /// <summary>The limits of the region in which a supply is used.</summary>
    public static SiteLimits Limits(SupplySystem supply)
    {
        ArgumentNullException.ThrowIfNull(supply);
        return supply == SupplySystem.SplitPhase120 || supply == SupplySystem.Wye208 ? NorthAmerica : Europe;
    }

    static AlarmTiming Timing(double raiseSeconds, double clearSeconds, double deadband) =>
        new(TimeSpan.FromSeconds(raiseSeconds), TimeSpan.FromSeconds(clearSeconds), deadband);

    /// <summary>Values that do not depend on the region.</summary>
    static class Everywhere
    {
        // Assumed: below it, moving one boat to another leg changes little.
        public const double LegImbalanceShare = 0.30;

        // Assumed: shaded air on a hot day, the same as the usual rating temperature of breakers.
        public const double RacewayCelsius = 40;

        // Assumed: a raceway in full sun above the air around it.
        public const double SunRiseKelvin = 10;

        // Assumed: a pedestal's metal or plastic in full sun above the air around it.
        public const double PedestalSunRiseKelvin = 10;

        // Assumed: air conditioners and chargers with some resistive heat; lagging.
        public const double PowerFactor = 0.95;

        // Assumed: above a meter's offset, below a boat's idle charger.
        public const double DrawingAmps = 0.5;

        // Assumed: mostly air conditioners, near constant power (-1), with some resistive load (+1) and fans.
        public const double LoadResponse = -0.6;
    }
}
