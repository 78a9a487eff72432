using Farberth.Planning.Loads;

namespace Farberth.Planning.Placement;

/// <summary>A boat that wants a slip for a time.</summary>
/// <param name="WishedDock">Null: any.</param>
/// <param name="WishedSlips">Empty: any. Wishes are met where that costs nobody a place and no volts that count.</param>
public sealed record Arrival(
    Boat Boat, DateTimeOffset From, DateTimeOffset Until, string? WishedDock, IReadOnlyList<string> WishedSlips)
{
    public bool HasWish => WishedDock != null || WishedSlips.Count > 0;

    public bool Overlaps(Arrival other) => From < other.Until && other.From < Until;
}

/// <summary>A boat that lies in a slip already.</summary>
/// <param name="Boat">With no cords where nothing is known of it but that it is there and what its outlets have drawn.</param>
/// <param name="MayMove">It agreed to another slip, should that make room.</param>
public sealed record Stay(string Slip, Boat Boat, DateTimeOffset Until, bool MayMove);

/// <summary>What a harbormaster asks: who comes, who is there, how warm it will be.</summary>
/// <param name="Start">When the present stays are as stated, and those that may would move.</param>
public sealed record ArrivalList(
    DateTimeOffset Start, IReadOnlyList<Arrival> Arrivals, IReadOnlyList<Stay> Present, Outdoor Outdoor)
{
    public DateTimeOffset End => Arrivals.Select(arrival => arrival.Until).DefaultIfEmpty(Start).Max();
}
