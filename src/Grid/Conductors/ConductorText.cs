using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Farberth.Grid.Conductors;

/// <summary>Reads what people write for a conductor.</summary>
static partial class ConductorText
{
    const string Examples = "\"4/0 AWG Cu\", \"350 kcmil Al\" or \"120 mm2 Cu\"";

    [GeneratedRegex(
        """
        ^\s* ( (?<aughts>[0-9]{1,2})/0 | (?<number>[0-9]{1,5}(\.[0-9]{1,3})?) )
        \s* (?<unit>awg|kcmil|mcm|mm2|mm²|mm\^2)?
        \s* (?<metal>\p{L}+)? \s*$
        """,
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture
        | RegexOptions.IgnorePatternWhitespace)]
    static partial Regex Shape { get; }

    internal static bool TryParse(string text, [NotNullWhen(true)] out Conductor? conductor, out string problem)
    {
        conductor = null;
        var match = Shape.Match(text);
        if (!match.Success)
            problem = $"\"{text}\" is not a conductor: write size, unit and metal, such as {Examples}.";
        else if (MetalOf(match.Groups["metal"].Value) is not { } metal)
            problem = $"\"{text}\" does not end in Cu or Al: write size, unit and metal, such as {Examples}.";
        else
            problem = Find(Size.Of(match), metal, out conductor);
        return conductor is not null;
    }

    static string Find(Size size, Metal metal, out Conductor? conductor)
    {
        var designation = $"{size.Text} {size.Unit} {metal.Symbol()}";
        if (Catalogue.ByDesignation.TryGetValue(designation, out conductor))
            return "";
        var nearest = Catalogue.All
            .Where(other => other.Metal == metal && other is IecConductor == (size.Unit == "mm2"))
            .OrderBy(other => Math.Abs(Math.Log(other.SquareMillimetres / size.SquareMillimetres)))
            .Take(2)
            .OrderBy(other => other.SquareMillimetres);
        return $"There is no {designation} in the tables: the nearest sizes are {string.Join(" and ", nearest)}.";
    }

    static Metal? MetalOf(string text) => text.ToUpperInvariant() switch
    {
        "CU" or "COPPER" => Metal.Copper,
        "AL" or "ALUMINIUM" or "ALUMINUM" => Metal.Aluminium,
        _ => null,
    };

    /// <summary>A size as written, whether a table has it or not.</summary>
    sealed record Size(string Text, string Unit, double SquareMillimetres)
    {
        internal static Size Of(Match match)
        {
            if (match.Groups["aughts"] is { Success: true, ValueSpan: var aughts })
            {
                var n = int.Parse(aughts, CultureInfo.InvariantCulture);
                return new($"{n}/0", "AWG", GaugeArea(1 - n));
            }
            var number = double.Parse(match.Groups["number"].ValueSpan, CultureInfo.InvariantCulture);
            var text = number.ToString(CultureInfo.InvariantCulture);
            return match.Groups["unit"].Value.ToUpperInvariant() switch
            {
                "" or "AWG" => new(text, "AWG", number <= 40 ? GaugeArea(number) : KcmilArea(number)),
                "KCMIL" or "MCM" => new(text, "kcmil", KcmilArea(number)),
                _ => new(text, "mm2", number),
            };
        }

        static double KcmilArea(double kcmil) => kcmil * 1000 * CircularMil.SquareMillimetres;

        // ASTM B258: 39 equal ratios from 4/0 (n = −3, 0.46 in) to 36 (0.005 in): d = 0.127 mm · 92^((36 − n)/39).
        static double GaugeArea(double n)
        {
            var d = 0.127 * Math.Pow(92, (36 - n) / 39);
            return Math.PI / 4 * d * d;
        }
    }
}
