using Farberth.Grid.Estimation;

namespace Farberth.Monitoring.Learning;

/// <summary>What is taken to be likely of a dock's cables and meters before anything is read. All of it is assumed.</summary>
static class JointAssumptions
{
    public static readonly JointsPrior Prior = new(
        LengthShareSd: 0.04, // what a site file's length is off by, with what the temperature model adds for ever
        OrdinaryOhms: 0.0005, // every cable has two ordinary joints in each conductor
        OrdinaryOhmsSd: 0.00015, // and those of one conductor differ from those of the next
        ConductorShareSd: 0.03, // the conductors of one cable are not equally warm: 8 K
        BadOhmsSd: 0.5,
        GainShareSd: 0.01, // two meters of class 0.5 may stand so far apart
        NoiseVolts: 0.05,
        NoiseLines: 48, // four hours
        WarmthShareSd: 0.03, // 8 K that come and go
        MeansAlike: 3, // half an hour
        HabitMeans: 144, // a boat that nobody hears keeps its habits for a day
        Threshold: 4);

    /// <summary>Of the amps: meters of class 0.5, and a power factor that is not measured everywhere.</summary>
    public const double AmpsShareSd = 0.01;

    /// <summary>So long is remembered what joints are learned from.</summary>
    public static readonly TimeSpan Remembered = TimeSpan.FromDays(3);

    /// <summary>So many cables are solved at once; a longer dock is learned in parts.</summary>
    public const int MostCables = 30;
}
