using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.HotAfternoon;

/// <summary>One dock as the simulator's physics needs it.</summary>
/// <param name="Cables">Listed from the source outwards.</param>
public sealed record Topology(
    string Dock,
    SupplySystem Supply,
    SourceDefinition Source,
    IReadOnlyList<CableRun> Cables,
    IReadOnlyList<PedestalDefinition> Pedestals);

/// <summary>One cable of the feeder; its outer end names it.</summary>
/// <param name="AmpacityAmps">At 30 °C around it and 75 °C in the conductor.</param>
public sealed record CableRun(
    string From, string To, double LengthMetres, Wire Line, Wire Neutral, double AmpacityAmps);

/// <summary>One conductor of a cable, or a parallel set of them.</summary>
/// <param name="PerKelvin">Change of resistance for 1 K, as a share of that at 20 °C.</param>
public readonly record struct Wire(double OhmsPerMetreAt20, double ReactanceOhmsPerMetre, double PerKelvin);
