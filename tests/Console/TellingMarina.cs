namespace Farberth.Console.Tests;

/// <summary>A marina whose service can tell browsers by Web Push.</summary>
public sealed class TellingMarina : Marina
{
    protected override IEnumerable<string> More(string folder)
    {
        var notify = Path.Combine(folder, "notify.yaml");
        // The private key of the example in RFC 8291, section 5, which everybody knows.
        File.WriteAllText(notify, """
            push: { subject: "mailto:office@example.org", key: { file: push.key } }
            people: []
            """);
        File.WriteAllText(Path.Combine(folder, "push.key"), "yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw");
        return ["--notify", notify];
    }
}
