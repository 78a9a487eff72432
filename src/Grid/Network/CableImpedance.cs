using Farberth.Grid.Conductors;

namespace Farberth.Grid.Network;

/// <summary>Impedance of a piece of feeder from its tables.</summary>
public static class CableImpedance
{
    /// <param name="sets">Parallel sets; each carries its share.</param>
    /// <param name="legCelsius">Temperature of the leg conductors.</param>
    /// <param name="neutralCelsius">Temperature of the neutral, cooler where the legs balance.</param>
    public static ImpedanceMatrix Of(
        SupplySystem supply, Conductor leg, Conductor neutral, Raceway raceway,
        double lengthMetres, int sets, double legCelsius, double neutralCelsius)
    {
        System.Numerics.Complex PerMetre(Conductor conductor, double celsius) =>
            new(conductor.OhmsPerMetre(celsius, raceway), conductor.ReactanceOhmsPerMetre(raceway, supply.Hertz));

        return ImpedanceMatrix.Separate(supply, PerMetre(leg, legCelsius), PerMetre(neutral, neutralCelsius))
            * (lengthMetres / sets);
    }
}
