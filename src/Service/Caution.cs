namespace Farberth.Service;

/// <summary>What stands under everything that this program shows.</summary>
public static class Caution
{
    public const string Text =
        "Nobody swims at a powered dock. Open no energised parts. Local codes and licensed people first.";
}
