namespace Farberth.Grid.Conductors;

/// <summary>Column of the ampacity table: the °C that insulation and terminations stand.</summary>
public enum TemperatureRating
{
    C60 = 60,
    C75 = 75,
    C90 = 90,
}
