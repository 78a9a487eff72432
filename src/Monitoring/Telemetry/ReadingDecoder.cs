using Farberth.Grid.Network;
using Farberth.Monitoring.Site;

namespace Farberth.Monitoring.Telemetry;

/// <summary>
/// One pedestal's reading. The smallest part that is at fault is refused: a leg of the volts, a whole outlet, or, where
/// the time or every volt is unusable, the whole message.
/// </summary>
sealed class ReadingDecoder(SupplySystem supply)
{
    /// <summary>Volts above this many times nominal are a fault of the meter.</summary>
    public const double HighestVoltsToNominal = 3;

    readonly Plausible volts = new(0, HighestVoltsToNominal * supply.NominalVolts);

    public Reading? Decode(ref PayloadReader reader, PedestalDefinition pedestal)
    {
        DateTimeOffset? time = null;
        long? seq = null;
        var volts = PerLeg.None;
        var outlets = new Dictionary<string, OutletReading>();
        while (reader.NextMember())
        {
            if (reader.Is("time"u8))
                time = reader.Time(new Place("time"));
            else if (reader.Is("volts"u8))
                volts = Legs(ref reader, new Place("volts"), supply.Legs, this.volts, RefusalReason.VoltsTooHigh);
            else if (reader.Is("seq"u8))
                seq = reader.Integer(new Place("seq"));
            else if (reader.Is("outlets"u8))
                Outlets(ref reader, pedestal, outlets);
            else
                reader.SkipValue();
        }
        if (time is null)
            reader.Faults.AddMissing("time");
        if (volts.Legs.Count == 0)
            reader.Faults.AddMissing("volts");
        return time is { } at && volts.Legs.Count > 0 ? new Reading(at, pedestal.Name, seq, volts, outlets) : null;
    }

    static void Outlets(ref PayloadReader reader, PedestalDefinition pedestal, Dictionary<string, OutletReading> outlets)
    {
        if (!reader.EnterObject(new Place("outlets")))
            return;
        while (reader.NextMember())
        {
            var name = reader.Name;
            if (pedestal.Outlets.TryGetValue(name, out var definition))
            {
                outlets.Remove(name);
                if (Outlet(ref reader, definition) is { } outlet)
                    outlets[name] = outlet;
            }
            else
            {
                reader.Faults.Add(RefusalReason.UnknownOutlet, $"pedestal {pedestal.Name} has no outlet {name}");
                reader.SkipValue();
            }
        }
    }

    static OutletReading? Outlet(ref PayloadReader reader, OutletDefinition outlet)
    {
        var faultsBefore = reader.Faults.Count;
        var name = outlet.Name;
        if (!reader.EnterObject(new Place("value", Outlet: name)))
            return null;
        var (amps, watts) = (PerLeg.None, PerLeg.None);
        var (celsius, leakageMilliamps) = ((double?)null, (double?)null);
        bool? closed = null;
        while (reader.NextMember())
        {
            if (reader.Is("amps"u8))
                amps = Legs(ref reader, new Place("amps", Outlet: name), outlet.Legs, Plausible.Amps);
            else if (reader.Is("watts"u8))
                watts = Legs(ref reader, new Place("watts", Outlet: name), outlet.Legs, Plausible.Watts);
            else if (reader.Is("celsius"u8))
                celsius = reader.Number(new Place("celsius", Outlet: name), Plausible.ContactCelsius);
            else if (reader.Is("leakage-ma"u8))
                leakageMilliamps = reader.Number(new Place("leakage-ma", Outlet: name), Plausible.LeakageMilliamps);
            else if (reader.Is("closed"u8))
                closed = reader.Flag(new Place("closed", Outlet: name));
            else
                reader.SkipValue();
        }
        return reader.Faults.Count == faultsBefore ? new(amps, watts, celsius, leakageMilliamps, closed) : null;
    }

    /// <summary>The good number of each leg; a leg that is at fault has none.</summary>
    static PerLeg Legs(ref PayloadReader reader, Place place, LegList allowed, Plausible range, RefusalReason tooHigh = RefusalReason.OutOfRange)
    {
        if (!reader.EnterObject(place))
            return PerLeg.None;
        var legs = PerLeg.None;
        while (reader.NextMember())
        {
            if (LegOf(ref reader, allowed) is { } leg)
            {
                legs = legs.With(leg, reader.Number(place with { Leg = leg }, range, tooHigh) ?? double.NaN);
                continue;
            }
            reader.Faults.Add(RefusalReason.UnknownLeg, place, $"has a leg {reader.Name}, which the site file does not have");
            reader.SkipValue();
        }
        return legs;
    }

    static Leg? LegOf(ref PayloadReader reader, LegList allowed)
    {
        Leg? leg = reader.Is("L1"u8) ? Leg.L1 : reader.Is("L2"u8) ? Leg.L2 : reader.Is("L3"u8) ? Leg.L3 : null;
        foreach (var known in allowed)
            if (known == leg)
                return leg;
        return null;
    }
}
