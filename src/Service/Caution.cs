namespace Farberth.Service;

/// <summary>What stands under everything that this program shows.</summary>
public static class Caution
{
    public const string Text =
        "Local codes and licensed people come first. Energised parts are not opened. Nobody swims at a powered dock.";
}
