using Farberth.Grid.Network;
using Farberth.Grid.Protection;
using Farberth.Monitoring.Words;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Reads the limits; what the file leaves out is the region's.</summary>
/// <param name="supply">Null where the site's supply cannot be read; bands are then not held against each other.</param>
sealed class LimitsReader(ValueReader read, SupplySystem? supply)
{
    public SiteLimits Read(YamlValue? value)
    {
        var usual = RegionDefaults.Limits(supply ?? SupplySystem.SplitPhase120);
        var fields = read.Fields(value, SiteKeys.Limits);
        var raceway = read.Fields(fields["raceway"], SiteKeys.RacewayAir);
        return new(
            read.Quantity(fields["continuous"], Expected.Continuous) ?? usual.ContinuousShare,
            Volts(fields["volts"], usual.Volts),
            read.Quantity(fields["leg-imbalance"], Expected.LegImbalance) ?? usual.LegImbalanceShare,
            read.Quantity(raceway["temperature"], Expected.RacewayCelsius) ?? usual.RacewayCelsius,
            read.Quantity(raceway["sun-rise"], Expected.SunRise) ?? usual.SunRiseKelvin,
            read.Number(fields["power-factor"], Sentence.Of("The power factor"), 0.3, 1) ?? usual.PowerFactor,
            read.Quantity(fields["drawing"], Expected.Drawing) ?? usual.DrawingAmps,
            read.Number(fields["load-response"], Sentence.Of("The load response"), -2, 2) ?? usual.LoadResponse,
            Leakage(fields["leakage"], usual.Leakage),
            Contacts(fields["contacts"], usual.Contacts))
        {
            Breaker = read.Choice(fields["breaker"], BreakerFamilies.Words) ?? usual.Breaker,
        };
    }

    ContactLimits Contacts(YamlValue? value, ContactLimits usual)
    {
        var fields = read.Fields(value, SiteKeys.Contacts);
        return new(
            read.Quantity(fields["limit"], Expected.ContactLimit) ?? usual.LimitCelsius,
            read.Quantity(fields["rise"], Expected.ContactRise) ?? usual.RiseKelvin,
            read.Quantity(fields["sun-rise"], Expected.PedestalSunRise) ?? usual.SunRiseKelvin);
    }

    LeakageLimits Leakage(YamlValue? value, LeakageLimits usual)
    {
        var fields = read.Fields(value, SiteKeys.Leakage);
        return new(
            read.Quantity(fields["outlet"], Expected.OutletLeakage) ?? usual.OutletMilliamps,
            read.Quantity(fields["feeder"], Expected.FeederLeakage) ?? usual.FeederMilliamps);
    }

    VoltageBands Volts(YamlValue? value, VoltageBands usual)
    {
        var fields = read.Fields(value, SiteKeys.Volts);
        var expected = supply is null ? Expected.AnyVolts : Expected.Band(supply.NominalVolts);
        var bands = new VoltageBands(
            LowA: read.Quantity(fields["low-a"], expected) ?? usual.LowA,
            LowB: read.Quantity(fields["low-b"], expected) ?? usual.LowB,
            HighA: read.Quantity(fields["high-a"], expected) ?? usual.HighA,
            HighB: read.Quantity(fields["high-b"], expected) ?? usual.HighB);
        var isInOrder = bands.LowB <= bands.LowA && bands.LowA < bands.HighA && bands.HighA <= bands.HighB;
        if (supply is not null && value is not null && !isInOrder)
        {
            read.Wrong(value.At, Sentence.Of(
                "The voltage bands must rise, but low-b is {0} V, low-a {1} V, high-a {2} V and high-b {3} V; what is left out is the region's.",
                Spelling.Number(bands.LowB), Spelling.Number(bands.LowA), Spelling.Number(bands.HighA), Spelling.Number(bands.HighB)));
        }
        return bands;
    }
}
