namespace Farberth.Service;

/// <summary>What stands under everything that this program shows.</summary>
public static class Caution
{
    public const string Text =
        "Local codes and licensed people first. Open no energised parts. Nobody swims at a powered dock.";
}
