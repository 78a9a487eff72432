namespace Farberth.Adapters.Notifiers;

/// <summary>A password or key. It shows itself to nobody who does not ask for it by name, so that no log gets it.</summary>
public sealed class Secret(string value)
{
    public string Reveal() => value;

    public override string ToString() => "(secret)";
}
