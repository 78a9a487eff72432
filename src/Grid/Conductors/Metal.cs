namespace Farberth.Grid.Conductors;

public enum Metal
{
    Copper,
    Aluminium,
}

static class MetalSymbol
{
    internal static string Symbol(this Metal metal) => metal == Metal.Copper ? "Cu" : "Al";
}
