using Farberth.Monitoring.Site;
using Farberth.Service.Views;

namespace Farberth.Service.Api;

/// <param name="Docks">Their names.</param>
public sealed record SiteDescribed(
    string Site, string TimeZone, string Supply, double NominalVolts, BandsShown Bands, IReadOnlyList<string> Docks, IReadOnlyList<SlipDescribed> Slips,
    string Caution)
{
    public static SiteDescribed Of(SiteDefinition site) => new(
        site.Name, site.TimeZone, site.Supply.Name, site.Supply.NominalVolts,
        new(site.Limits.Volts.LowA, site.Limits.Volts.LowB, site.Limits.Volts.HighA, site.Limits.Volts.HighB), [.. site.Docks.Keys],
        [.. site.Slips.Values.Select(slip => new SlipDescribed(slip.Name, Round(slip.LengthMetres), Round(slip.BeamMetres), Round(slip.DepthMetres), [.. Outlets(site, slip.Name)]))],
        Service.Caution.Text);

    static double? Round(double? metres) => metres is { } value ? Math.Round(value, 2) : null;

    static IEnumerable<SlipOutlet> Outlets(SiteDefinition site, string slip) =>
        from dock in site.Docks.Values
        from pedestal in dock.Pedestals.Values
        from outlet in pedestal.Outlets.Values
        where outlet.Slip == slip
        select new SlipOutlet(dock.Name, pedestal.Name, outlet.Name);
}

/// <summary>A berth; sizes are in metres, null where the file does not say.</summary>
public sealed record SlipDescribed(string Slip, double? LengthMetres, double? BeamMetres, double? DepthMetres, IReadOnlyList<SlipOutlet> Outlets);

public sealed record SlipOutlet(string Dock, string Pedestal, string Outlet);

/// <param name="NoLoadVolts">Leg to neutral, behind the transformer.</param>
/// <param name="TransformerKva">Null where there is none.</param>
public sealed record DockDescribed(
    string Dock, double NoLoadVolts, double? TransformerKva, double? FeederBreakerAmps, IReadOnlyList<PedestalDescribed> Pedestals,
    IReadOnlyList<CableDescribed> Cables)
{
    public static DockDescribed Of(DockDefinition dock)
    {
        var along = new DockDistances(dock);
        return new(
            dock.Name, dock.Source.NoLoadVolts, dock.Source.Transformer?.RatingVoltAmperes / 1000, dock.FeederBreakerAmps,
            [.. along.Pedestals.Select(name => new PedestalDescribed(name, along.Before(name), Math.Round(along.Metres(name), 1), [.. dock.Pedestals[name].Outlets.Values.Select(Of)]))],
            [.. dock.Cables.Select(cable => new CableDescribed(
                cable.From, cable.To, Math.Round(cable.LengthMetres, 1), cable.Conductor.ToString(), cable.Neutral.ToString(), cable.Sets))]);
    }

    static OutletDescribed Of(OutletDefinition outlet) =>
        new(outlet.Name, outlet.RatingAmps, [.. outlet.Legs.Select(leg => leg.ToString())], outlet.HasNeutral, outlet.Slip);
}

/// <param name="Before">The next pedestal towards the source, or "source".</param>
/// <param name="Metres">Along the cables from the source.</param>
public sealed record PedestalDescribed(string Pedestal, string Before, double Metres, IReadOnlyList<OutletDescribed> Outlets);

public sealed record OutletDescribed(string Outlet, double RatingAmps, IReadOnlyList<string> Legs, bool HasNeutral, string? Slip);

/// <param name="Sets">Parallel sets of conductors.</param>
public sealed record CableDescribed(string From, string To, double Metres, string Conductor, string Neutral, int Sets);
