using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;
using static Farberth.Adapters.Stores.InfluxDb.InfluxNames;

namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>
/// What pedestals and weather say, as points. Two readings of one pedestal with the very same time are one moment: the one
/// that came later stands.
/// </summary>
public sealed class ReadingPoints(SiteDefinition site)
{
    readonly InboundDecoder decoder = new(site);
    readonly Dictionary<string, string> dockOf = site.Docks.Values
        .SelectMany(dock => dock.Pedestals.Keys, (dock, pedestal) => (pedestal, dock.Name)).ToDictionary();

    /// <summary>The points of one message, by the same decoder as the monitor's; none where there is nothing to keep.</summary>
    public IEnumerable<Point> Of(RecordedMessage recorded) => decoder.Decode(recorded.Message, recorded.At).Value switch
    {
        Reading reading => Of(reading),
        LinkNotice link => [new(Measurements.Link, At(link.Pedestal), [(Fields.Online, FieldText.Of(link.Online))], link.Time)],
        Weather weather => [new(
            Measurements.Weather,
            [(Tags.Site, site.Name)],
            [.. Number(Fields.Celsius, weather.Celsius), .. Number(Fields.Humidity, weather.Humidity)],
            weather.Time)],
        _ => [],
    };

    IEnumerable<Point> Of(Reading reading)
    {
        foreach (var leg in reading.Volts.Legs)
            yield return new(Measurements.Pedestal, At(reading.Pedestal, leg: leg), [.. Number(Fields.Volts, reading.Volts[leg])], reading.Time);
        foreach (var (name, outlet) in reading.Outlets)
        {
            for (var leg = Leg.L1; leg <= Leg.N; leg++)
                if (OfLeg(outlet, leg) is { Count: > 0 } fields)
                    yield return new(Measurements.Outlet, At(reading.Pedestal, name, leg), fields, reading.Time);
            if (OfOutlet(outlet) is { Count: > 0 } whole)
                yield return new(Measurements.Outlet, At(reading.Pedestal, name), whole, reading.Time);
        }
    }

    static List<(string, FieldText)> OfLeg(OutletReading outlet, Leg leg) =>
        [.. Number(Fields.Amps, outlet.Amps[leg]), .. Number(Fields.Watts, outlet.Watts[leg])];

    static List<(string, FieldText)> OfOutlet(OutletReading outlet)
    {
        List<(string, FieldText)> fields = [.. Number(Fields.Celsius, outlet.Celsius), .. Number(Fields.Milliamps, outlet.LeakageMilliamps)];
        if (outlet.Closed is { } closed)
            fields.Add((Fields.Closed, FieldText.Of(closed)));
        return fields;
    }

    static IEnumerable<(string, FieldText)> Number(string name, double? value) =>
        value is { } number && double.IsFinite(number) ? [(name, FieldText.Of(number))] : [];

    List<(string, string)> At(string pedestal, string? outlet = null, Leg? leg = null)
    {
        List<(string, string)> tags = [(Tags.Dock, dockOf[pedestal])];
        if (leg is { } one)
            tags.Add((Tags.Leg, one.ToString()));
        if (outlet is not null)
            tags.Add((Tags.Outlet, outlet));
        tags.Add((Tags.Pedestal, pedestal));
        tags.Add((Tags.Site, site.Name));
        return tags;
    }
}
