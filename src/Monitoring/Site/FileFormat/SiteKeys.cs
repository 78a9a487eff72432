using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Site.FileFormat;

/// <summary>Every key of the site file, in one place: the reader, its messages and the schema's test all use these.</summary>
static class SiteKeys
{
    public static readonly KeySet Site = new("site", ["site", "timezone", "supply", "docks"], ["slips", "limits", "alarms", "advice"]);
    public static readonly KeySet Dock = new("dock", ["source", "cables", "pedestals"], ["feeder-breaker"]);
    public static readonly KeySet Source = new("source", ["no-load"], ["transformer", "fault-current", "x/r"]);
    public static readonly KeySet Transformer = new(
        "transformer",
        ["rating", "impedance", "x/r"],
        ["cooling", "top-liquid-rise", "hot-spot-rise", "time-constant", "hot-spot-limit"]);

    public static readonly KeySet Cable = new(
        "cable",
        ["from", "to", "length", "conductor", "raceway"],
        ["neutral", "sets", "ampacity", "terminals"]);

    public static readonly KeySet Pedestal = new("pedestal", ["outlets"], []);
    public static readonly KeySet Outlet = new("outlet", ["rating", "legs"], ["neutral", "slip", "breaker"]);
    public static readonly KeySet Slip = new("slip", [], ["length", "beam", "depth"]);

    public static readonly KeySet Limits = new(
        "limits",
        [],
        ["continuous", "volts", "leg-imbalance", "raceway", "power-factor", "drawing", "load-response", "leakage", "contacts", "breaker"]);

    public static readonly KeySet Volts = new("volts", [], ["low-a", "low-b", "high-a", "high-b"]);
    public static readonly KeySet RacewayAir = new("raceway-air", [], ["temperature", "sun-rise"]);
    public static readonly KeySet Leakage = new("leakage", [], ["outlet", "feeder"]);
    public static readonly KeySet Contacts = new("contacts", [], ["limit", "rise", "sun-rise"]);
    public static readonly KeySet Alarms = new("alarms", [], AlarmKinds.Words);
    public static readonly KeySet AlarmTiming = new("alarm-timing", [], ["raise-after", "clear-after", "deadband"]);

    public static readonly KeySet Advice = new("advice", [], ["repeat", "patience", "volts"]);

    public static readonly IReadOnlyList<KeySet> All =
        [Site, Dock, Source, Transformer, Cable, Pedestal, Outlet, Slip, Limits, Volts, RacewayAir, Leakage, Contacts, Alarms, AlarmTiming, Advice];
}
