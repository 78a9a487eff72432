namespace Farberth.Grid.Conductors;

/// <summary>What a cable lies in. It sets the reactance; metal also adds to the resistance.</summary>
public enum Raceway
{
    None,
    Pvc,
    Aluminium,
    Steel,
}
