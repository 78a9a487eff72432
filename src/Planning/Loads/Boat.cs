using Farberth.Monitoring.Site;

namespace Farberth.Planning.Loads;

/// <summary>A shore-power cord by the outlet that it fits.</summary>
/// <param name="Legs">1 for a leg and neutral, 2 for 125/250 V, 3 for three-phase.</param>
/// <param name="HasNeutral">False: it fits only an outlet without a neutral contact.</param>
public sealed record Cord(double RatingAmps, int Legs, bool HasNeutral)
{
    /// <summary>Plug and receptacle are of one kind: rating, legs and neutral agree. Adapters are not counted on.</summary>
    public bool Fits(OutletDefinition outlet) =>
        outlet.RatingAmps == RatingAmps && outlet.Legs.Count == Legs && outlet.HasNeutral == HasNeutral;

    /// <summary>As "30 A" or "50 A on 2 legs".</summary>
    public override string ToString() =>
        FormattableString.Invariant($"{RatingAmps:0.#} A{(Legs == 1 ? "" : $" on {Legs} legs")}{(HasNeutral ? "" : " without neutral")}");
}

/// <summary>A boat as a harbormaster asks for it at the radio.</summary>
/// <param name="Cords">All that it brings out at once; at least one where it wants power, none where it wants none.</param>
/// <param name="AirConditioners">Of about 16,000 Btu/h each.</param>
public sealed record Boat(
    string Name, double LengthMetres, double BeamMetres, double DraughtMetres, IReadOnlyList<Cord> Cords, int AirConditioners);
