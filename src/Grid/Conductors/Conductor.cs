using System.Diagnostics.CodeAnalysis;

namespace Farberth.Grid.Conductors;

public enum Metal
{
    Copper,
    Aluminium,
}

/// <summary>What a cable lies in: it sets the reactance and, where magnetic or conducting, adds to the resistance.</summary>
public enum Raceway
{
    None,
    Pvc,
    Aluminium,
    Steel,
}

/// <summary>Column of the ampacity table: the temperature that insulation and terminations stand.</summary>
public enum TemperatureRating
{
    C60 = 60,
    C75 = 75,
    C90 = 90,
}

/// <summary>One conductor of a published table.</summary>
public sealed record Conductor(string Designation, Metal Metal, double SquareMillimetres)
{
    /// <summary>True where the ampacity is not printed for this size but interpolated by area.</summary>
    public bool AmpacityIsInterpolated => throw new NotImplementedException();

    public static bool TryParse(string text, [NotNullWhen(true)] out Conductor? conductor, out string problem) =>
        throw new NotImplementedException();

    /// <summary>AC resistance of one conductor at its own temperature, ohm per metre.</summary>
    public double OhmsPerMetre(double celsius, Raceway raceway) => throw new NotImplementedException();

    /// <summary>Reactance to neutral, ohm per metre.</summary>
    public double ReactanceOhmsPerMetre(Raceway raceway, double hertz) => throw new NotImplementedException();

    /// <summary>Amps that one conductor carries continuously in raceway at an ambient temperature.</summary>
    public double AmpacityAmps(TemperatureRating rating, double ambientCelsius) => throw new NotImplementedException();
}

public static class ConductorTemperature
{
    /// <summary>Steady temperature of a conductor from what surrounds it and what it carries.</summary>
    public static double Celsius(double ambientCelsius, double amps, double ampacityAt30Amps, TemperatureRating rating) =>
        throw new NotImplementedException();
}
