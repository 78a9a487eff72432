using Farberth.Grid.Conductors;
using Farberth.Grid.Network;

namespace Farberth.Planning.Replays;

/// <summary>Something that could have been otherwise on a recorded day.</summary>
public abstract record Change;

/// <summary>Another conductor in one cable, its neutral with it where they were alike.</summary>
/// <param name="To">Outer end of the cable.</param>
public sealed record CableChange(string To, Conductor Conductor) : Change;

/// <summary>A bad joint that was there on the day, and is repaired.</summary>
/// <param name="Milliohms">More than a sound joint: what the service's alarm says of it.</param>
public sealed record JointRepair(string To, Leg Conductor, double Milliohms) : Change;

/// <summary>More boats on outlets that drew nothing all day, each where it hurts least.</summary>
/// <param name="RatingAmps">Of their one cord.</param>
public sealed record MoreBoats(int Count, double RatingAmps, int Legs) : Change;

/// <summary>A hotter day: every outlet draws more, and the raceways are hotter.</summary>
public sealed record Hotter(double Kelvin) : Change;
