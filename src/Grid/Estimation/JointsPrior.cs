namespace Farberth.Grid.Estimation;

/// <summary>What is taken to be likely before anything is read; one standard deviation each.</summary>
/// <param name="LengthShareSd">Of a cable's length and temperature, as a share of its ohms.</param>
/// <param name="OrdinaryOhms">Ordinary joints in each conductor of a cable, alike.</param>
/// <param name="OrdinaryOhmsSd">So much the ordinary joints of one conductor differ from those of the next.</param>
/// <param name="ConductorShareSd">So much of its ohms one conductor differs from the next, by its own temperature.</param>
/// <param name="BadOhmsSd">Of a bad joint: wide.</param>
/// <param name="GainShareSd">Of the difference of two meters' gains.</param>
/// <param name="NoiseVolts">Noise of a line between two meters, V.</param>
/// <param name="NoiseLines">That noise counts like what is left over in so many lines.</param>
/// <param name="WarmthShareSd">So much of a cable's ohms comes and goes with a temperature that is not modelled.</param>
/// <param name="MeansAlike">So many neighbouring means count as one: what is left over in them is alike.</param>
/// <param name="HabitMeans">For so many means a boat that nobody hears keeps its habits.</param>
/// <param name="Threshold">In standard deviations.</param>
public sealed record JointsPrior(
    double LengthShareSd, double OrdinaryOhms, double OrdinaryOhmsSd, double ConductorShareSd, double BadOhmsSd,
    double GainShareSd, double NoiseVolts, double NoiseLines, double WarmthShareSd, double MeansAlike, double HabitMeans, double Threshold);
