namespace Farberth.Adapters.Stores.InfluxDb;

/// <summary>
/// Every name that is written to the database, for dashboards and queries to rely on. Tags come from the site file, so there
/// are as many series as the site has places and kinds of alarm, and no message can make more.
/// </summary>
public static class InfluxNames
{
    public static class Measurements
    {
        /// <summary>What pedestals measure: volts of each leg.</summary>
        public const string Pedestal = "pedestal";

        /// <summary>What outlets measure: amps and watts of each leg; what has no leg stands in points without that tag.</summary>
        public const string Outlet = "outlet";

        public const string Link = "link";
        public const string Weather = "weather";

        /// <summary>Worked out, not measured: see <see cref="StatePoints"/>.</summary>
        public const string Estimate = "estimate";

        public const string Dock = "dock";
        public const string Cable = "cable";
        public const string Alarm = "alarm";
    }

    public static class Tags
    {
        public const string Site = "site", Dock = "dock", Pedestal = "pedestal", Outlet = "outlet", Leg = "leg", Cable = "cable", Kind = "kind";
    }

    public static class Fields
    {
        /// <summary>RMS, leg to neutral.</summary>
        public const string Volts = "volts";

        /// <summary>One standard deviation of estimated volts.</summary>
        public const string VoltsSd = "volts_sd";

        public const string Amps = "amps", Watts = "watts", Celsius = "celsius", Milliamps = "leakage_milliamps", Closed = "closed";
        public const string Online = "online", Humidity = "humidity";

        /// <summary>Share of the rating, of the transformer or of a cable's ampacity.</summary>
        public const string Load = "load";

        public const string KilovoltAmperes = "kva", HotSpotCelsius = "hot_spot_celsius", AlarmsStanding = "alarms_standing";
        public const string State = "state", Priority = "priority", Standing = "standing";
    }
}
