using System.Globalization;
using Farberth.Grid.Conductors;
using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Planning.Replays;

namespace Farberth.Cli.Studying;

/// <summary>Reads and writes changes of a recorded day: "cable:H7=500 kcmil Al", "repair:H7.L1=12", "boats:10=30", "hotter:5".</summary>
static class ChangeText
{
    public const string Forms = "cable:H7=500 kcmil Al, repair:H7.L1=12 (milliohms), boats:10=30 (amps, one leg; 50x2 for two), hotter:5";

    const double MostBoats = 500, MostKelvin = 30, MostMilliohms = 10_000;

    /// <summary>As one phrase.</summary>
    public static string Words(Change change) => change switch
    {
        CableChange cable => $"{cable.Conductor} in the cable to {cable.To}",
        JointRepair joint => FormattableString.Invariant($"a joint of {joint.Milliohms:0.#} mohm in {joint.Conductor} of the cable to {joint.To} repaired"),
        MoreBoats boats => FormattableString.Invariant($"{boats.Count} boats more on {boats.RatingAmps:0.#} A"),
        Hotter hotter => FormattableString.Invariant($"{hotter.Kelvin:0.#} K hotter"),
        _ => throw new ArgumentOutOfRangeException(nameof(change)),
    };

    /// <exception cref="CommandFailure">It is none of the forms, or names what the site does not have.</exception>
    public static Change Read(string text, SiteDefinition site)
    {
        var (kind, rest) = Cut(text, ':');
        var (name, value) = Cut(rest, '=');
        return kind switch
        {
            "cable" => new CableChange(Cable(text, name, site), Conductor.TryParse(value, out var conductor, out var problem)
                ? conductor : throw CommandFailure.BadInput($"--what-if {text}: {problem}")),
            "repair" when Cut(name, '.') is var (cable, leg) && Enum.TryParse<Leg>(leg, out var conductor) && Enum.IsDefined(conductor) =>
                new JointRepair(Cable(text, cable, site), conductor, Number(text, value, MostMilliohms)),
            "boats" => Boats(text, name, value),
            "hotter" => new Hotter(Number(text, rest, MostKelvin)),
            _ => throw Wrong(text),
        };
    }

    static MoreBoats Boats(string text, string count, string cord)
    {
        var (amps, legs) = Cut(cord, 'x');
        return new((int)Number(text, count, MostBoats), Number(text, amps, 800), legs.Length == 0 ? 1 : (int)Number(text, legs, 3));
    }

    static string Cable(string text, string name, SiteDefinition site) => site.Docks.Values.Any(dock => dock.Cables.Any(cable => cable.To == name))
        ? name : throw CommandFailure.BadInput($"--what-if {text}: the site file has no cable to '{name}'");

    static double Number(string text, string number, double most) =>
        double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value > 0 && value <= most ? value : throw Wrong(text);

    static CommandFailure Wrong(string text) => CommandFailure.Usage($"--what-if {text}: write {Forms}");

    static (string Before, string After) Cut(string text, char at) =>
        text.IndexOf(at) is >= 0 and var place ? (text[..place], text[(place + 1)..]) : (text, "");
}
