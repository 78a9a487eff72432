namespace Farberth.Monitoring.Risk;

/// <summary>The air at the pedestals, in the sun, and its drift, K a minute.</summary>
readonly record struct PedestalAir(double Celsius, double DriftPerMinute);
