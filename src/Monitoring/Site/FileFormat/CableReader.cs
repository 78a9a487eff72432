using Farberth.Grid.Conductors;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>The two ends of a cable as read; null where an end cannot be read.</summary>
sealed record CableEnds(string? From, Place FromAt, string? To, Place ToAt);

/// <summary>Reads one cable of a dock.</summary>
sealed class CableReader(ValueReader read)
{
    const int MostSets = 20;

    static readonly Conductor StandIn = Grid.Conductors.Conductor.All[0];

    static readonly IReadOnlyList<(string, Raceway)> Raceways =
    [
        ("pvc", Raceway.Pvc),
        ("aluminium", Raceway.Aluminium),
        ("steel", Raceway.Steel),
        ("none", Raceway.None),
    ];

    public (CableEnds Ends, CableDefinition Cable) Read(YamlValue value)
    {
        var fields = read.Fields(value, SiteKeys.Cable);
        var from = fields["from"];
        var to = fields["to"];
        var ends = new CableEnds(read.Name(from), from?.At ?? value.At, read.Name(to), to?.At ?? value.At);
        var conductor = Conductor(fields["conductor"]) ?? StandIn;
        var cable = new CableDefinition(
            ends.From ?? "",
            ends.To ?? "",
            read.Quantity(fields["length"], Expected.CableLength) ?? double.NaN,
            conductor,
            Neutral(fields["neutral"]) ?? conductor,
            read.Choice(fields["raceway"], Raceways) ?? Raceway.None,
            read.Count(fields["sets"], Sentence.Of("The number of parallel sets"), MostSets) ?? 1,
            Terminals(fields["terminals"]) ?? TemperatureRating.C75,
            read.Quantity(fields["ampacity"], Expected.Ampacity));
        return (ends, cable);
    }

    Conductor? Conductor(YamlValue? value)
    {
        if (read.Text(value) is not { } text)
            return null;
        if (Grid.Conductors.Conductor.TryParse(text, out var conductor, out var problem))
            return conductor;
        read.Wrong(value!.At, Spelling.OneLine(problem));
        return null;
    }

    Conductor? Neutral(YamlValue? value)
    {
        if (value is not YamlScalar { Text: "none" or "false" })
            return Conductor(value);
        read.Wrong(value.At, Sentence.Of("A cable of a dock has a neutral; leave 'neutral' out for one like the conductor, or write its size. An outlet without a neutral has 'neutral: false'."));
        return null;
    }

    TemperatureRating? Terminals(YamlValue? value)
    {
        if (read.Quantity(value, Expected.Terminals) is not { } celsius)
            return null;
        var rating = (TemperatureRating)(int)Math.Round(celsius);
        if (Enum.IsDefined(rating))
            return rating;
        read.Wrong(value!.At, Sentence.Of("The tables have columns for terminals of 60 °C, 75 °C and 90 °C; write one of these."));
        return null;
    }
}
