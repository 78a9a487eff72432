using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Reads a transformer's plate and how warm it gets.</summary>
sealed class TransformerReader(ValueReader read)
{
    public const double HighestXToR = 50;

    static readonly IReadOnlyList<(string, bool)> Coolings = [("liquid", false), ("dry", true)];

    public TransformerDefinition Read(YamlValue value)
    {
        var fields = read.Fields(value, SiteKeys.Transformer);
        return new(
            read.Quantity(fields["rating"], Expected.TransformerRating) ?? double.NaN,
            read.Quantity(fields["impedance"], Expected.Impedance) ?? double.NaN,
            read.Number(fields["x/r"], Sentence.Of("The ratio x/r"), 0, HighestXToR) ?? double.NaN)
        { Thermal = Thermal(fields) };
    }

    /// <summary>A time constant belongs to what is slow: the liquid, or a dry winding.</summary>
    TransformerThermal Thermal(Fields fields)
    {
        var isDry = read.Choice(fields["cooling"], Coolings) ?? false;
        var usual = isDry ? TransformerThermal.Dry : TransformerThermal.Liquid;
        var topLiquid = read.Quantity(fields["top-liquid-rise"], Expected.TopLiquidRise);
        if (isDry && topLiquid is not null)
            read.Wrong(fields["top-liquid-rise"]!.At, Sentence.Of("A dry transformer has no liquid; remove 'top-liquid-rise'."));
        var hotSpot = read.Quantity(fields["hot-spot-rise"], Expected.HotSpotRise) ?? usual.Rise.HotSpotKelvin;
        topLiquid ??= usual.Rise.TopLiquidKelvin;
        if (topLiquid > hotSpot)
            read.Wrong((fields["hot-spot-rise"] ?? fields["top-liquid-rise"])!.At, Sentence.Of("The hottest spot cannot rise less than the liquid around it."));
        var time = read.Quantity(fields["time-constant"], Expected.TransformerTime) is { } seconds ? TimeSpan.FromSeconds(seconds) : (TimeSpan?)null;
        var limit = read.Quantity(fields["hot-spot-limit"], Expected.HotSpotLimit) ?? usual.HotSpotLimitCelsius;
        return usual with
        {
            Rise = usual.Rise with
            {
                TopLiquidKelvin = topLiquid.Value,
                HotSpotKelvin = hotSpot,
                LiquidTime = time ?? usual.Rise.LiquidTime,
                WindingTime = (isDry ? time : null) ?? usual.Rise.WindingTime,
            },
            HotSpotLimitCelsius = limit,
            HotSpotDangerCelsius = limit + usual.HotSpotDangerCelsius - usual.HotSpotLimitCelsius,
        };
    }
}
