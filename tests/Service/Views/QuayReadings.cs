using Farberth.Grid.Network;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Service.Tests.Views;

/// <summary>An invented hour of the four posts: each speaks every few seconds, loads come and go, and the volts fall as amps flow.</summary>
static class QuayReadings
{
    static readonly TimeSpan Between = TimeSpan.FromSeconds(5);

    public static readonly DateTimeOffset Noon = new(2027, 7, 17, 12, 0, 0, TimeSpan.Zero);

    public static IEnumerable<Reading> Hour(DockDefinition dock)
    {
        var seq = 0;
        for (var at = Noon; at < Noon.AddHours(1); at += Between)
        {
            var place = 0;
            foreach (var pedestal in dock.Pedestals.Values)
                yield return Of(pedestal, at.AddMilliseconds(700 * place++), seq++, (int)(at - Noon).TotalMinutes);
        }
    }

    static Reading Of(PedestalDefinition pedestal, DateTimeOffset time, long seq, int minute)
    {
        var outlets = pedestal.Outlets.ToDictionary(outlet => outlet.Key, outlet => new OutletReading(Amps(outlet.Value, minute), PerLeg.None, null, null, true));
        return new(time, pedestal.Name, seq, new(Volts(Leg.L1, minute), Volts(Leg.L2, minute), Volts(Leg.L3, minute)), outlets);
    }

    /// <summary>Another load every seven minutes.</summary>
    static PerLeg Amps(OutletDefinition outlet, int minute) => outlet.Legs.Aggregate(
        PerLeg.None, (amps, leg) => amps.With(leg, Math.Round(outlet.RatingAmps * (0.2 + (minute / 7 + outlet.Name[0] + (int)leg) % 4 * 0.15), 1)));

    static double Volts(Leg leg, int minute) => 231.5 - 0.6 * ((minute / 7 + (int)leg) % 4);
}
