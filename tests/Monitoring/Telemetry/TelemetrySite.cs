using Farberth.Grid.Conductors;
using Farberth.Grid.Network;
using Farberth.Monitoring.Alarms;
using Farberth.Monitoring.Site;
using Farberth.Monitoring.Telemetry;

namespace Farberth.Monitoring.Tests.Telemetry;

/// <summary>A small invented site, 120/240 V, with one dock of two pedestals, made by hand so that no file is read.</summary>
static class TelemetrySite
{
    public const string Prefix = "farberth/v1/eastharbour/";
    public static readonly DateTimeOffset Now = new(2027, 7, 17, 15, 5, 0, TimeSpan.Zero);
    public static readonly SiteDefinition Site = Make();

    public static InboundDecoder Decoder() => new(Site);

    public static WireMessage Message(string topic, ReadOnlyMemory<byte> payload) => new(Prefix + topic, payload);

    public static WireMessage Message(string topic, string payload) =>
        Message(topic, System.Text.Encoding.UTF8.GetBytes(payload));

    public static Decoded Decode(string topic, string payload) => Decoder().Decode(Message(topic, payload), Now);

    static SiteDefinition Make()
    {
        var first = Pedestal("C1", Outlet("A", 30, Leg.L1), Outlet("B", 30, Leg.L2));
        var last = Pedestal("C12", Outlet("A", 30, Leg.L1), Outlet("B", 50, Leg.L1, Leg.L2));
        var dock = new DockDefinition("C", new SourceDefinition(122, null, null, 1), null, [Cable("source", "C1"), Cable("C1", "C12")],
            new Dictionary<string, PedestalDefinition> { ["C1"] = first, ["C12"] = last });
        return new SiteDefinition("eastharbour", "America/Toronto", SupplySystem.SplitPhase120,
            new Dictionary<string, DockDefinition> { ["C"] = dock },
            new Dictionary<string, SlipDefinition> { ["C-23"] = new("C-23", 12, null, null) },
            new SiteLimits(0.8, new VoltageBands(114, 106, 126, 127), 0.2, 40, 10, 0.95, 1, 0, new(30, 100), new(75, 30, 10)),
            new Dictionary<AlarmKind, AlarmTiming>());
    }

    static PedestalDefinition Pedestal(string name, params OutletDefinition[] outlets) =>
        new(name, outlets.ToDictionary(outlet => outlet.Name));

    static OutletDefinition Outlet(string name, double ratingAmps, params Leg[] legs) => new(name, ratingAmps, [.. legs], true, null);

    static CableDefinition Cable(string from, string to)
    {
        Assert.True(Conductor.TryParse("120 mm2 Cu", out var conductor, out _));
        return new CableDefinition(from, to, 50, conductor, conductor, Raceway.Pvc, 1, TemperatureRating.C75, null);
    }
}
