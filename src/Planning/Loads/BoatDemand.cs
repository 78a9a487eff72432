using Farberth.Grid.Network;
using Farberth.Monitoring.Advice;
using Farberth.Monitoring.Forecast;

namespace Farberth.Planning.Loads;

/// <summary>What a boat that nobody has measured yet is expected to draw: the mean of an hour, never the nameplates' sum.</summary>
/// <remarks>
/// Amps at nominal volts, all legs together, shared evenly by the boat's leg contacts and never more than a cord's rating:
///   I(h, T) = n·I_ac·d(T) + b·L·s(h)·(120/V₀)
/// n air conditioners draw I_ac while they run (typical, the figure that boaters are told); d is the share of an hour that they run,
/// rising from 0 at 20 °C, where the forecast lets cooling begin, to 1 at 35 °C: units are chosen to hold the cabin on a hot day (assumed).
/// b = 0.35 A for each metre of length is what refrigerators, chargers and water heaters take on the mean of a day, some 0.5 kW on
/// 12 m; s(h) says when people are aboard and awake (both assumed). Measured outlets go by their own past instead.
/// </remarks>
public static class BoatDemand
{
    const double AlwaysRunsFromCelsius = 35;

    const double BaseAmpsPerMetre = 0.35;

    /// <param name="localHour">0 to 24.</param>
    /// <returns>On each leg contact of each cord, A.</returns>
    public static double AmpsPerContact(SupplySystem supply, Boat boat, double localHour, double celsius)
    {
        var contacts = boat.Cords.Sum(cord => cord.Legs);
        if (contacts == 0)
            return 0;
        var cooling = boat.AirConditioners * Appliances.AirConditionerAmps(supply.NominalVolts) * RunningShare(celsius);
        var rest = BaseAmpsPerMetre * boat.LengthMetres * Shape(localHour) * 120 / supply.NominalVolts;
        return Math.Min((cooling + rest) / contacts, boat.Cords.Min(cord => cord.RatingAmps));
    }

    /// <summary>d(T).</summary>
    public static double RunningShare(double celsius) =>
        Math.Clamp((celsius - Profile.CoolingFromCelsius) / (AlwaysRunsFromCelsius - Profile.CoolingFromCelsius), 0, 1);

    static double Shape(double localHour) => localHour switch
    {
        < 6 => 0.7,
        < 9 => 1.4,
        < 17 => 0.8,
        < 22 => 1.6,
        _ => 1.0,
    };
}
