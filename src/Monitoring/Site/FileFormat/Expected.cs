using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>What a quantity must look like: its dimension and the range outside which it can only be a slip of the pen.</summary>
/// <param name="What">For messages, as "The length of a cable".</param>
/// <param name="Lowest">In the dimension's inside unit.</param>
/// <param name="Highest">In the dimension's inside unit.</param>
sealed record Expected(Sentence What, Dimension Dimension, double Lowest, double Highest, string Example)
{
    // The ranges are ours and wide: a dock outside them does not exist (common practice).
    public static readonly Expected TransformerRating = new(Sentence.Of("The rating of a transformer"), Dimension.ApparentPower, 1e3, 10e6, "75 kVA");
    public static readonly Expected Impedance = new(Sentence.Of("The impedance of a transformer"), Dimension.Share, 0.005, 0.2, "2.5 %");
    public static readonly Expected FaultCurrent = new(Sentence.Of("The fault current of a service"), Dimension.Current, 100, 200e3, "10 kA");
    public static readonly Expected FeederBreaker = new(Sentence.Of("The rating of a feeder breaker"), Dimension.Current, 10, 6000, "300 A");
    public static readonly Expected CableLength = new(Sentence.Of("The length of a cable"), Dimension.Length, 0.1, 5000, "180 ft");
    public static readonly Expected Ampacity = new(Sentence.Of("The ampacity of a cable"), Dimension.Current, 5, 10e3, "400 A");
    public static readonly Expected Terminals = new(Sentence.Of("The temperature of terminals"), Dimension.Temperature, 60, 90, "75 °C");
    public static readonly Expected OutletRating = new(Sentence.Of("The rating of an outlet"), Dimension.Current, 5, 800, "30 A");
    public static readonly Expected SlipLength = new(Sentence.Of("The length of a slip"), Dimension.Length, 1, 200, "40 ft");
    public static readonly Expected SlipBeam = new(Sentence.Of("The beam of a slip"), Dimension.Length, 0.5, 60, "15 ft");
    public static readonly Expected SlipDepth = new(Sentence.Of("The depth of a slip"), Dimension.Length, 0.2, 40, "6 ft");
    public static readonly Expected Continuous = new(Sentence.Of("The continuous limit"), Dimension.Share, 0.3, 1, "80 %");
    public static readonly Expected LegImbalance = new(Sentence.Of("The limit of leg imbalance"), Dimension.Share, 0.01, 2, "30 %");
    public static readonly Expected RacewayCelsius = new(Sentence.Of("The air in the raceway"), Dimension.Temperature, -40, 90, "40 °C");
    public static readonly Expected SunRise = new(Sentence.Of("The rise by the sun"), Dimension.TemperatureDifference, 0, 50, "10 K");
    public static readonly Expected Drawing = new(Sentence.Of("The least amps of a boat at work"), Dimension.Current, 0.01, 10, "0.5 A");
    public static readonly Expected OutletLeakage = new(Sentence.Of("The limit of an outlet's leakage"), Dimension.LeakageCurrent, 1, 500, "30 mA");
    public static readonly Expected FeederLeakage = new(Sentence.Of("The limit of a feeder's leakage"), Dimension.LeakageCurrent, 1, 5000, "100 mA");
    public static readonly Expected ContactLimit = new(Sentence.Of("The limit of contacts"), Dimension.Temperature, 40, 200, "75 °C");
    public static readonly Expected ContactRise = new(Sentence.Of("The rise of contacts at rated amps"), Dimension.TemperatureDifference, 5, 100, "30 K");
    public static readonly Expected PedestalSunRise = new(Sentence.Of("The rise of a pedestal by the sun"), Dimension.TemperatureDifference, 0, 50, "10 K");
    public static readonly Expected TopLiquidRise = new(Sentence.Of("The rise of the top liquid"), Dimension.TemperatureDifference, 10, 100, "55 K");
    public static readonly Expected HotSpotRise = new(Sentence.Of("The rise of the hottest spot"), Dimension.TemperatureDifference, 20, 250, "80 K");
    public static readonly Expected TransformerTime = new(Sentence.Of("The time constant of a transformer"), Dimension.Duration, 60, 48 * 3600, "3 h");
    public static readonly Expected HotSpotLimit = new(Sentence.Of("The limit of the hottest spot"), Dimension.Temperature, 60, 300, "120 °C");
    public static readonly Expected AlarmDelay = new(Sentence.Of("The delay of an alarm"), Dimension.Duration, 0, 24 * 3600, "2 min");
    public static readonly Expected AdviceRepeat = new(Sentence.Of("The interval between two requests to a slip"), Dimension.Duration, 60, 24 * 3600, "30 min");
    public static readonly Expected AdvicePatience = new(Sentence.Of("The patience with a request"), Dimension.Duration, 30, 24 * 3600, "10 min");
    public static readonly Expected Deadband = new(Sentence.Of("The deadband of an alarm"), Dimension.Share, 0, 0.5, "3 %");

    /// <summary>While the supply itself cannot be read.</summary>
    public static readonly Expected AnyVolts = new(Sentence.Of("A voltage, leg to neutral,"), Dimension.Voltage, 1, 1000, "120 V");

    /// <summary>No-load volts lie within 15 % of nominal: taps of ±5 %, and a supply at the edge of its band.</summary>
    public static Expected NoLoad(double nominalVolts) => new(
        Sentence.Of("The no-load voltage, leg to neutral,"), Dimension.Voltage, 0.85 * nominalVolts, 1.15 * nominalVolts, $"{nominalVolts} V");

    public static Expected Band(double nominalVolts) => new(
        Sentence.Of("A voltage band, leg to neutral,"), Dimension.Voltage, 0.5 * nominalVolts, 1.5 * nominalVolts, $"{nominalVolts} V");
}
