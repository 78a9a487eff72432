using System.Diagnostics.CodeAnalysis;

namespace Farberth.Grid.Conductors;

/// <summary>One conductor of a published table. <see cref="All"/> lists them; there are no others.</summary>
/// <param name="Designation">As written in a site file: "350 kcmil Al", "4/0 AWG Cu", "120 mm2 Cu".</param>
/// <param name="SquareMillimetres">The nominal area.</param>
/// <param name="Origins">Where its numbers come from: resistance, reactance, ampacity.</param>
public abstract record Conductor(
    string Designation, Metal Metal, double SquareMillimetres, IReadOnlyList<Origin> Origins)
{
    /// <summary>Copper before aluminium, NEC sizes before IEC sizes, small before large.</summary>
    public static IReadOnlyList<Conductor> All => Catalogue.All;

    /// <summary>True where the ampacity is not printed for this size but interpolated by area.</summary>
    public abstract bool AmpacityIsInterpolated { get; }

    /// <summary>
    /// Reads "350 kcmil Al", "4/0 AWG Cu", "4/0 Cu", "6 Cu", "120 mm2 Cu", "120 mm² Cu", in any case and spacing.
    /// A size without a unit is AWG.
    /// </summary>
    /// <param name="problem">What is wrong, in one sentence with the nearest sizes; empty on success.</param>
    public static bool TryParse(string text, [NotNullWhen(true)] out Conductor? conductor, out string problem) =>
        ConductorText.TryParse(text, out conductor, out problem);

    /// <summary>AC resistance of one conductor, ohm per metre, at its own temperature in °C.</summary>
    public abstract double OhmsPerMetre(double celsius, Raceway raceway);

    /// <summary>Reactance to neutral, ohm per metre, in proportion to the frequency.</summary>
    public abstract double ReactanceOhmsPerMetre(Raceway raceway, double hertz);

    /// <summary>
    /// Amps that one conductor carries continuously at an ambient temperature in °C, with not more than three
    /// current-carrying conductors together; 0 where the ambient is at or above the rating.
    /// </summary>
    public double AmpacityAmps(TemperatureRating rating, double ambientCelsius) =>
        AmpacityAt30Amps(rating) * AmbientCorrection.Factor(rating, ambientCelsius);

    /// <summary>The ampacity of the table's own ambient, 30 °C.</summary>
    public abstract double AmpacityAt30Amps(TemperatureRating rating);

    public sealed override string ToString() => Designation;
}
