using Farberth.Grid.Network;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Reads how boaters are asked; what the file leaves out is <see cref="RegionDefaults"/>'.</summary>
/// <param name="supply">Null where the site's supply cannot be read.</param>
sealed class AdviceReader(ValueReader read, SupplySystem? supply)
{
    public AdviceSettings Read(YamlValue? value)
    {
        var usual = RegionDefaults.Advice;
        var fields = read.Fields(value, SiteKeys.Advice);
        return new(
            Time(fields["repeat"], Expected.AdviceRepeat) ?? usual.Repeat,
            Time(fields["patience"], Expected.AdvicePatience) ?? usual.Patience,
            read.Quantity(fields["volts"], supply is null ? Expected.AnyVolts : Expected.Band(supply.NominalVolts)) ?? usual.LowVolts);
    }

    TimeSpan? Time(YamlValue? value, Expected expected) =>
        read.Quantity(value, expected) is { } seconds ? TimeSpan.FromSeconds(seconds) : null;
}
